/** Controls of a replay; the station plays, the viewer only asks. */

import { useComputed } from '@preact/signals';
import { writeElapsed } from '../format/time';
import { words } from '../text/words';
import { useActions } from './context';
import { REPLAY_SPEEDS } from './viewer-actions';

export function ReplayBar() {
  const actions = useActions();
  const replay = useComputed(() => actions.model.station.value.replay);
  const now = replay.value;
  if (now === undefined) return null;
  const running = !now.paused && !now.ended;
  return (
    <section class="replay" aria-label={words.replay} data-testid="replay">
      <button type="button" aria-keyshortcuts="p" onClick={() => actions.toggleReplay()}>
        {running ? words.replayPause : words.replayResume}
      </button>
      <button type="button" class="quiet" aria-keyshortcuts="0" onClick={() => actions.restartReplay()}>
        {words.replayRestart}
      </button>
      <label class="speed">
        {words.replaySpeed}
        <select
          value={String(now.speed)}
          onChange={(event) => actions.setReplaySpeed(Number(event.currentTarget.value))}
        >
          {REPLAY_SPEEDS.map((speed) => (
            <option key={speed} value={String(speed)}>
              {words.replaySpeedOf(speed)}
            </option>
          ))}
        </select>
      </label>
      <progress max={Math.max(0.001, now.durationS)} value={now.positionS} aria-label="Position of the replay" />
      <p class="replay-position">
        {writeElapsed(now.positionS)} of {writeElapsed(now.durationS)}
        {now.ended ? ', ended' : ''}
      </p>
    </section>
  );
}
