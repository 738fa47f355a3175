/** What changes something at the station: zero, record, mark, target, what the trials are. */

import { useComputed } from '@preact/signals';
import { writeFixed } from '../format/quantity';
import { recordingText } from '../text/state-sentences';
import { saidText, trialWords } from '../text/trial-sentences';
import { words } from '../text/words';
import { useActions } from './context';

export function StationControls() {
  const actions = useActions();
  const { model } = actions;
  const recording = useComputed(() => model.station.value.recording);
  const target = useComputed(() => model.station.value.target);
  const said = useComputed(() => saidText(model.station.value.trials));
  // What is done at the station belongs to a live session: a recording is as it was.
  const played = useComputed(() => model.station.value.replay !== undefined);
  const several = useComputed(() => model.shown.value.length > 1);
  const usable = useComputed(() => model.connection.value.kind === 'open' && model.channels.value.length > 0);
  const on = recording.value.state === 'on';
  return (
    <section class="station-controls" aria-label="Station">
      {!played.value && (
        <>
          <div class="buttons">
            <button type="button" disabled={!usable.value} aria-keyshortcuts="z" onClick={() => actions.zeroAll()}>
              {several.value ? words.zeroBoth : words.zero}
            </button>
            <button
              type="button"
              class={on ? 'filled' : ''}
              disabled={!usable.value}
              aria-keyshortcuts="r"
              onClick={() => actions.toggleRecording()}
            >
              {on ? words.stopRecording : words.record}
            </button>
            <button type="button" disabled={!usable.value} aria-keyshortcuts="m" onClick={() => actions.open('mark')}>
              {words.mark}
            </button>
            <button type="button" disabled={!usable.value} aria-keyshortcuts="t" onClick={() => actions.open('target')}>
              {words.target}
            </button>
            <button type="button" disabled={!usable.value} aria-keyshortcuts="i" onClick={() => actions.open('trials')}>
              {trialWords.button}
            </button>
          </div>
          <p class="soft" role="status" data-testid="recording">
            {recordingText(recording.value)}
          </p>
        </>
      )}
      {target.value?.forceN !== undefined && (
        <p class="soft" data-testid="target">
          {targetText(target.value.forceN, target.value.tolerancePercent ?? 0)}
        </p>
      )}
      {said.value !== '' && (
        <p class="soft" data-testid="trials">
          {said.value}
        </p>
      )}
    </section>
  );
}

function targetText(forceN: number, tolerancePercent: number): string {
  const half = (forceN * tolerancePercent) / 100;
  const band = `${writeFixed(forceN - half, 0)} to ${writeFixed(forceN + half, 0)}\u00a0N`;
  return `Target ${writeFixed(forceN, 0)}\u00a0N, band ${band}`;
}
