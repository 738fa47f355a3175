/** Press one cell, then the other: says whether left is left. */

import { useComputed, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { BEGIN, step } from '../model/sides-check';
import { words } from '../text/words';
import { useActions } from './context';
import { Modal } from './modal';

export function SidesDialog() {
  const actions = useActions();
  const { model } = actions;
  const check = useSignal(BEGIN);
  const levels = useComputed(() => sides(actions));
  useEffect(
    () =>
      levels.subscribe((now) => {
        if (now !== undefined) check.value = step(check.peek(), now);
      }),
    [levels, check],
  );
  const known = levels.value !== undefined;
  const { press, verdict } = check.value;
  const text = !known
    ? words.sidesNeed
    : verdict !== undefined
      ? words.sidesVerdict[verdict]
      : press === undefined
        ? words.sidesLetGo
        : words.sidesPress(press);
  return (
    <Modal title={words.sides}>
      <p>{words.sidesLead}</p>
      <p class="sides-step" role="status">
        {text}
      </p>
      {known && <SideLevels left={levels.value?.left ?? 0} right={levels.value?.right ?? 0} />}
      <div class="buttons end">
        <button type="button" class="quiet" onClick={() => (check.value = { ...BEGIN })}>
          {words.sidesAgain}
        </button>
        <button type="button" class="filled" onClick={() => actions.close()}>
          {model.station.value.session === undefined ? words.cancel : words.close}
        </button>
      </div>
    </Modal>
  );
}

function SideLevels({ left, right }: { readonly left: number; readonly right: number }) {
  return (
    <dl class="sides">
      {(
        [
          ['left', left],
          ['right', right],
        ] as const
      ).map(([side, forceN]) => (
        <div key={side} class="fact">
          <dt>{side}</dt>
          <dd>
            <meter min={0} max={100} value={Math.min(100, Math.abs(forceN))} aria-label={side} />
          </dd>
        </div>
      ))}
    </dl>
  );
}

function sides({ model }: ReturnType<typeof useActions>): { left: number; right: number } | undefined {
  const { levels } = model.station.value;
  const of = (limb: string): number | undefined => {
    const shown = model.shown.value.find((one) => one.limb === limb);
    const level = shown && levels.get(shown.channel.channel);
    return level?.forceN?.unit === 'N' && level.state !== 'lost' ? level.forceN.value : undefined;
  };
  const [left, right] = [of('left'), of('right')];
  return left === undefined || right === undefined ? undefined : { left, right };
}
