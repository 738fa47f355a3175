/** Health of each link and the timing of the whole way, for whoever wires cells. */

import { useComputed } from '@preact/signals';
import { writeCount, writePercent, writePlain, writeShortTime } from '../format/number';
import { writeFixed } from '../format/quantity';
import type { Channel, LatencyFigures, LinkEvent } from '../live/events';
import type { Fact } from '../text/cell-sentences';
import { checkWords, lastCheckText } from '../text/check-sentences';
import { centreText, zeroDetail } from '../text/state-sentences';
import { words } from '../text/words';
import { useActions } from './context';
import { DevicesInRange } from './devices';
import { Facts } from './facts';
import { channelName, linkName } from './limb-names';

export function LinkHealth() {
  const actions = useActions();
  const { model } = actions;
  const links = useComputed(() => model.station.value.links);
  const latency = useComputed(() => model.station.value.latency);
  return (
    <details
      class="links"
      open={actions.linksOpen.value}
      onToggle={(event) => {
        actions.linksOpen.value = event.currentTarget.open;
      }}
    >
      <summary>
        <h2>{words.linkHealth}</h2>
      </summary>
      {links.value.map((link) => (
        <Facts key={link.link} title={linkName(link.link, model.channels.value)} facts={linkFacts(link)} />
      ))}
      {model.channels.value.map((channel) => (
        <ChannelFacts key={channel.channel} channel={channel} />
      ))}
      {latency.value && (
        <Facts
          title="From arrival, median and 99 of 100"
          facts={[
            ['to decoded', latencyText(latency.value.arrivalToDecodedMs)],
            ['to sent', latencyText(latency.value.arrivalToSentMs)],
            ['to painted', latencyText(latency.value.arrivalToPaintedMs)],
          ]}
        />
      )}
      {model.station.value.session?.mode === 'live' && (
        <>
          <button type="button" class="quiet" onClick={() => actions.open('sides')}>
            {words.sides}
          </button>
          <button type="button" class="quiet" onClick={() => actions.open('compare')}>
            {words.compare}
          </button>
          <button type="button" class="quiet" onClick={() => actions.open('tap')}>
            {words.tap}
          </button>
          <DevicesInRange />
        </>
      )}
      {model.badMessages.value > 0 && (
        <p class="note">{writeCount(model.badMessages.value)} messages could not be read.</p>
      )}
    </details>
  );
}

function ChannelFacts({ channel }: { readonly channel: Channel }) {
  const actions = useActions();
  const { model } = actions;
  const zero = useComputed(() => model.station.value.zeros.get(channel.channel));
  const centre = useComputed(() => centreText(model.station.value.levels.get(channel.channel)));
  const check = useComputed(() => actions.check.states.value.get(channel.channel));
  const relativeU = channel.calibrationRelativeU;
  return (
    <>
      <Facts
        title={`${channelName(channel)}, channel ${channel.channel}`}
        facts={[
          ['calibration', calibrationText(channel.calibration, relativeU)],
          ...(centre.value === '' ? [] : ([[words.centre, centre.value]] as const)),
          [checkWords.last, lastCheckText(check.value)],
          ['session zero', zeroDetail(zero.value)],
          [
            'rated load',
            channel.ratedLoadN === undefined ? words.notKnown : `${writeFixed(channel.ratedLoadN, 0)}\u00a0N`,
          ],
          ['bandwidth', channel.bandwidthHz === undefined ? words.notKnown : writePlain(channel.bandwidthHz, 'Hz')],
          ['filter of the trace', channel.traceFilter ?? 'none'],
          [
            'its delay',
            channel.traceDelayS === undefined
              ? words.notKnown
              : `${writeShortTime(channel.traceDelayS)}, drawn without it`,
          ],
        ]}
      />
      <button type="button" class="quiet" onClick={() => actions.openCell(channel.channel)}>
        {words.lookAtCell(channelName(channel).toLowerCase())}
      </button>
    </>
  );
}

function calibrationText(kind: Channel['calibration'], relativeU: number | undefined): string {
  if (kind === 'unknown') return words.notKnown;
  const of = kind === 'factory' ? 'of the factory' : 'of this station';
  return relativeU === undefined
    ? `${of}, uncertainty not known`
    : `${of}, u = ${writeFixed(relativeU * 100, 2)}\u00a0%`;
}

function linkFacts(link: LinkEvent): readonly Fact[] {
  return [
    ['state', link.state],
    ['rate', rateText(link)],
    ['samples lost', count(link.lostSamples)],
    ['arrival jitter', shortTime(link.arrivalJitterS)],
    ['uncertainty of times', shortTime(link.timeStandardUncertaintyS)],
    [
      'clock against station',
      link.clockSkewPpm === undefined ? words.notKnown : `${writeFixed(link.clockSkewPpm, 1)}\u00a0ppm`,
    ],
    ['cell charge', link.batteryPercent === undefined ? words.notKnown : writePercent(link.batteryPercent)],
    [
      'temperature',
      link.temperatureC === undefined ? words.notKnown : `${writeFixed(link.temperatureC, 1)}\u00a0\u00b0C`,
    ],
    ['bytes skipped', count(link.skippedBytes)],
    ['checks failed', count(link.crcFailures)],
    ['twice, too late', `${count(link.duplicates)}, ${count(link.reordered)}`],
    ['late, put in order', count(link.putBack)],
    ['reconnects, clock restarts', `${count(link.reconnects)}, ${count(link.clockRestarts)}`],
  ];
}

function rateText({ sampleRateHz, nominalRateHz }: LinkEvent): string {
  if (sampleRateHz === undefined) return words.notKnown;
  const measured = `${writeFixed(sampleRateHz, 1)}\u00a0Hz`;
  return nominalRateHz === undefined ? measured : `${measured} of ${writeFixed(nominalRateHz, 0)}\u00a0Hz`;
}

function count(value: number | undefined): string {
  return value === undefined ? words.notKnown : writeCount(value);
}

function shortTime(seconds: number | undefined): string {
  return seconds === undefined ? words.notKnown : writeShortTime(seconds);
}

function latencyText(figures: LatencyFigures | undefined): string {
  return figures === undefined ? words.notKnown : `${writePlain(figures.p50, 'ms')}, ${writePlain(figures.p99, 'ms')}`;
}
