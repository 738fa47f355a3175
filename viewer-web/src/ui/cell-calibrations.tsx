/** The saved calibrations of a cell, which one is in use, and the way into a new one. */

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { guideApi, type SavedVersion, type SavedVersions } from '../live/guide-api';
import type { Answer } from '../live/review-api';
import { guideWords, versionText } from '../text/guide-sentences';
import { useActions } from './context';

export function CellCalibrations({ channel }: { readonly channel: number }) {
  const actions = useActions();
  const saved = useSignal<SavedVersions | undefined>(undefined);
  const failure = useSignal('');
  const took = (answer: Answer<SavedVersions>): void => {
    if (answer.ok) saved.value = answer.value;
    failure.value = answer.ok ? '' : answer.reason;
  };
  useEffect(() => {
    void actions.guide.look();
    void guideApi.versions(channel).then(took);
  }, [channel]);
  const versions = saved.value?.versions ?? [];
  return (
    <section class="facts cell-calibrations" data-testid="calibrations">
      <h3>{guideWords.versions}</h3>
      {failure.value !== '' && <p role="status">{failure.value}</p>}
      {saved.value !== undefined && versions.length === 0 && <p class="soft">{guideWords.noVersions}</p>}
      <ul>
        {versions.map((one) => (
          <Version key={one.id} version={one} onUse={() => void guideApi.choose(channel, one.version).then(took)} />
        ))}
      </ul>
      {actions.model.station.value.session?.mode === 'live' && <Begin channel={channel} />}
    </section>
  );
}

function Version({ version, onUse }: { readonly version: SavedVersion; readonly onUse: () => void }) {
  return (
    <li>
      <span>{versionText(version)}</span>{' '}
      {version.inUse ? (
        <b>in use</b>
      ) : (
        !version.over && (
          <button type="button" class="quiet" onClick={onUse}>
            {guideWords.use}
          </button>
        )
      )}
    </li>
  );
}

function Begin({ channel }: { readonly channel: number }) {
  const actions = useActions();
  const state = actions.guide.state.value;
  const running = state !== undefined && state.state !== 'none';
  const other = running && state.channel !== channel;
  return (
    <p class="cell-begin">
      {running && (other ? guideWords.otherOnItsWay(state.cell.name) : guideWords.onItsWay)}
      <button type="button" onClick={() => actions.openGuide(channel)}>
        {running ? guideWords.goOn : guideWords.calibrate}
      </button>
    </p>
  );
}
