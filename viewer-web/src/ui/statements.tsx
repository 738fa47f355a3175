/** What does not work or deserves a look, in words; nothing where all is well. Weight shows by line and fill, not by hue. */

import { useComputed } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { writeClock } from '../format/time';
import type { CheckState } from '../live/check-api';
import type { ViewerModel } from '../model/viewer-model';
import { aloud } from '../text/check-sentences';
import {
  connectionStatement,
  linkStatement,
  recordingStatement,
  reducedText,
  type Statement,
  sentence,
} from '../text/state-sentences';
import { words } from '../text/words';
import { useActions } from './context';
import { channelName, linkName, whenText } from './limb-names';

const NOTICES_SHOWN_S = 60;

export function Statements() {
  const actions = useActions();
  const statements = useComputed(() => [
    ...collect(actions.model, actions.failure.value),
    ...cellStatements(actions.model, actions.check.states.value),
  ]);
  const channels = useComputed(() => actions.model.channels.value.map((one) => one.channel).join(' '));
  useEffect(
    () =>
      channels.subscribe((known) => {
        if (known !== '') void actions.check.lookAll(known.split(' ').map(Number));
      }),
    [channels],
  );
  return (
    <div class="statements" role="status" aria-live="polite">
      {statements.value.map((statement) => (
        <p key={statement.text} class={`statement weight-${statement.weight}`}>
          {statement.text}
        </p>
      ))}
      {actions.failure.value !== undefined && (
        <button
          type="button"
          class="link"
          onClick={() => {
            actions.failure.value = undefined;
          }}
        >
          {words.dismiss}
        </button>
      )}
    </div>
  );
}

function collect(model: ViewerModel, failure: string | undefined): readonly Statement[] {
  const state = model.station.value;
  const connection = model.connection.value;
  const since = connection.kind === 'closed' ? writeClock(Date.now() - (performance.now() - connection.sinceMs)) : '';
  const all: (Statement | undefined)[] = [connectionStatement(connection, since)];
  if (connection.kind === 'open') {
    for (const link of state.links) {
      const sinceS = Math.min(link.stateSinceS, lastSampleS(model, link.link) ?? link.stateSinceS);
      all.push(
        linkStatement({
          name: linkName(link.link, state.channels),
          state: link.state,
          reason: link.reason,
          played: state.replay !== undefined,
          since: whenText(state, link.state === 'lost' ? sinceS : link.stateSinceS),
        }),
      );
    }
  }
  all.push(recordingStatement(state.recording));
  if (state.delivery.delivery === 'reduced') all.push({ weight: 1, text: reducedText(state.delivery.reason) });
  const oldestS = model.nowS.value - NOTICES_SHOWN_S;
  for (const notice of state.notices) {
    if (notice.severity === 'info' || notice.atS < oldestS) continue;
    all.push({ weight: notice.severity === 'error' ? 2 : 1, text: sentence(notice.text) });
  }
  if (failure !== undefined) all.push({ weight: 2, text: sentence(failure) });
  const byText = new Map(all.flatMap((one) => (one === undefined ? [] : [[one.text, one] as const])));
  return [...byText.values()];
}

/** What deserves a look at a cell before a session; it keeps nobody from measuring. */
function cellStatements(model: ViewerModel, checks: ReadonlyMap<number, CheckState>): readonly Statement[] {
  return model.channels.value.flatMap((channel) => {
    const state = checks.get(channel.channel);
    return state === undefined ? [] : aloud(channelName(channel), state).map((text) => ({ weight: 1 as const, text }));
  });
}

/** Time of the newest sample of a link; undefined where none is kept. */
function lastSampleS(model: ViewerModel, link: string): number | undefined {
  const times = model.channels.value
    .filter((channel) => channel.link === link)
    .map((channel) => model.rings.get(channel.channel)?.lastS ?? Number.NEGATIVE_INFINITY);
  const newestS = Math.max(...times);
  return Number.isFinite(newestS) ? newestS : undefined;
}
