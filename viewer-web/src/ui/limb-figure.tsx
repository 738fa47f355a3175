/** One limb's force now: the large steady figure, what the limb is doing, and its zero. */

import { useComputed } from '@preact/signals';
import { type Figure, steadyFigure, writeCount } from '../format/number';
import { isKnown } from '../format/quantity';
import { writeSeconds } from '../format/time';
import type { ChannelLevel } from '../live/events';
import { lastContraction, openContraction, type ShownChannel } from '../model/station-state';
import { metricOf, quantityOf, windowLabel } from '../text/result-sentences';
import { zeroText } from '../text/state-sentences';
import { words } from '../text/words';
import { useActions } from './context';
import { channelName, whenText } from './limb-names';
import { LineSample } from './line-sample';

export function LimbFigure({ shown }: { readonly shown: ShownChannel }) {
  const name = channelName(shown.channel);
  return (
    <section class="limb" aria-label={name}>
      <h2 class="limb-name">
        <LineSample line={shown.line} />
        {name}
      </h2>
      <ForceNow channel={shown.channel.channel} />
      <Doing shown={shown} />
      <ZeroLine channel={shown.channel.channel} name={name} />
    </section>
  );
}

function ForceNow({ channel }: { readonly channel: number }) {
  const { model } = useActions();
  const level = useComputed(() => model.station.value.levels.get(channel));
  const stale = useComputed(() => model.connection.value.kind !== 'open');
  const figure = figureOf(level.value, stale.value);
  return (
    <p class={figure.unit === words.counts ? 'figure counts' : 'figure'} data-testid={`figure-${channel}`}>
      <span class="figure-value">{figure.value}</span>
      <span class="figure-rest">
        {figure.unit !== words.counts && <span class="figure-uncertainty">{figure.uncertainty}</span>}
        {figure.unit !== '' && <span class="figure-unit">{figure.unit}</span>}
      </span>
    </p>
  );
}

/** Nothing is shown for a force that is not known: no last value that looks like a present one. */
function figureOf(level: ChannelLevel | undefined, stale: boolean): Figure {
  const force = level?.forceN;
  if (force === undefined || stale || level?.state === 'lost')
    return { value: words.noForce, uncertainty: '', unit: '' };
  if (force.unit !== 'N') return { value: writeCount(force.value), uncertainty: '', unit: words.counts };
  if (!isKnown(force)) return { value: words.noForce, uncertainty: '', unit: '' };
  return steadyFigure(force);
}

/** At rest, holding since, or what the last contraction was worth. */
function Doing({ shown }: { readonly shown: ShownChannel }) {
  const { model } = useActions();
  const channel = shown.channel.channel;
  const state = useComputed(() => model.station.value.levels.get(channel)?.state);
  const open = useComputed(() => openContraction(model.station.value, channel));
  const last = useComputed(() => lastContraction(model.station.value, channel));
  if (shown.channel.unit === 'count') {
    return <p class="doing">Not calibrated: counts of the converter, no force.</p>;
  }
  if (state.value === 'lost') return <p class="doing">No samples.</p>;
  if (open.value) return <Held onsetS={open.value.onsetS} />;
  const label = last.value && quantityOf(metricOf(last.value, 'force.peak')) ? windowLabel(last.value) : undefined;
  return <p class="doing">{label === undefined ? 'At rest.' : `Last ${label}`}</p>;
}

/** The hold timer: a plain figure that runs while the contraction lasts. */
function Held({ onsetS }: { readonly onsetS: number }) {
  const { model } = useActions();
  return (
    <p class="doing" data-testid="held">
      Held <span class="held">{writeSeconds(Math.max(0, model.nowS.value - onsetS))}</span>
    </p>
  );
}

function ZeroLine({ channel, name }: { readonly channel: number; readonly name: string }) {
  const actions = useActions();
  const zero = useComputed(() => actions.model.station.value.zeros.get(channel));
  const played = useComputed(() => actions.model.station.value.replay !== undefined);
  const atS = zero.value?.atS;
  const when = atS === undefined ? '' : whenText(actions.model.station.value, atS);
  return (
    <div class="zero-line">
      {!played.value && (
        <button type="button" class="quiet" onClick={() => actions.zeroChannel(channel)}>
          {words.zeroOf(name)}
        </button>
      )}
      <p class="soft" role="status">
        {zeroText(zero.value, when)}
      </p>
    </div>
  );
}
