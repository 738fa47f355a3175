/** What both limbs' cells read now, for checks that are done with the cells in hand. */

import { useComputed } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Levels } from '../model/sides-check';
import { words } from '../text/words';
import { useActions } from './context';

/** Returns the newest levels, and hands each to a step of the check; absent where a limb has no calibrated cell. */
export function useSides(step: (levels: Levels) => void): Levels | undefined {
  const { model } = useActions();
  const take = useRef(step);
  take.current = step;
  const levels = useComputed((): Levels | undefined => {
    const { levels: known } = model.station.value;
    const of = (limb: string): number | undefined => {
      const shown = model.shown.value.find((one) => one.limb === limb);
      const level = shown && known.get(shown.channel.channel);
      return level?.forceN?.unit === 'N' && level.state !== 'lost' ? level.forceN.value : undefined;
    };
    const [left, right] = [of('left'), of('right')];
    return left === undefined || right === undefined ? undefined : { left, right };
  });
  useEffect(
    () =>
      levels.subscribe((now) => {
        if (now !== undefined) take.current(now);
      }),
    [levels],
  );
  return levels.value;
}

export function SideLevels({ levels }: { readonly levels: Levels }) {
  return (
    <dl class="sides">
      {(['left', 'right'] as const).map((side) => (
        <div key={side} class="fact">
          <dt>{side}</dt>
          <dd>
            <meter min={0} max={100} value={Math.min(100, Math.abs(levels[side]))} aria-label={side} />
          </dd>
        </div>
      ))}
    </dl>
  );
}

/** What every check ends with. */
export function CheckButtons({ onAgain }: { readonly onAgain: () => void }) {
  const actions = useActions();
  return (
    <div class="buttons end">
      <button type="button" class="quiet" onClick={onAgain}>
        {words.sidesAgain}
      </button>
      <button type="button" class="filled" onClick={() => actions.close()}>
        {words.close}
      </button>
    </div>
  );
}
