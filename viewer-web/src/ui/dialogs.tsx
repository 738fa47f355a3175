/** The dialogs: keys, cautions, a mark, the target, and the checks of both cells. */

import { useRef } from 'preact/hooks';
import { cautions } from '../text/cautions';
import { words } from '../text/words';
import { readSetting, writeSetting } from './browser-settings';
import { CompareDialog } from './compare-dialog';
import { useActions } from './context';
import { lettersOn } from './keyboard';
import { KEY_COMMANDS, KEY_GROUPS } from './keys';
import { DialogButtons, Modal } from './modal';
import { SidesDialog } from './sides-dialog';
import { TapDialog } from './tap-dialog';
import { TrialsDialog } from './trials-dialog';

export function Dialogs() {
  switch (useActions().panel.value) {
    case 'help':
      return <HelpDialog />;
    case 'cautions':
      return <CautionsDialog />;
    case 'mark':
      return <MarkDialog />;
    case 'target':
      return <TargetDialog />;
    case 'sides':
      return <SidesDialog />;
    case 'compare':
      return <CompareDialog />;
    case 'tap':
      return <TapDialog />;
    case 'trials':
      return <TrialsDialog />;
    default:
      return null;
  }
}

function CautionsDialog() {
  const actions = useActions();
  return (
    <Modal title={cautions.title}>
      <p>{cautions.lead}</p>
      <ul class="cautions">
        {cautions.points.map((point) => (
          <li key={point}>{point}</li>
        ))}
      </ul>
      <div class="buttons end">
        <button type="button" class="filled" onClick={() => actions.acceptCautions()}>
          {cautions.accept}
        </button>
      </div>
    </Modal>
  );
}

function HelpDialog() {
  const actions = useActions();
  return (
    <Modal title={words.keys} wide>
      <div class="key-groups">
        {Object.entries(KEY_GROUPS).map(([group, title]) => (
          <section key={group}>
            <h3>{title}</h3>
            <dl class="keys">
              {KEY_COMMANDS.filter((command) => command.group === group).map((command) => (
                <div key={command.label} class="key">
                  <dt>
                    <kbd>{command.label}</kbd>
                  </dt>
                  <dd>{command.words}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
      <p>Drag the trace to look back; turn the wheel or use two fingers to change the window.</p>
      <label class="check">
        <input
          type="checkbox"
          checked={lettersOn.value}
          onChange={(event) => {
            lettersOn.value = event.currentTarget.checked;
            writeSetting('letters', lettersOn.value ? 'on' : 'off');
          }}
        />
        Keys with letters and signs
      </label>
      <div class="buttons end">
        <button type="button" class="filled" onClick={() => actions.close()}>
          {words.close}
        </button>
      </div>
    </Modal>
  );
}

function MarkDialog() {
  const actions = useActions();
  const text = useRef<HTMLInputElement>(null);
  const submit = (event: Event): void => {
    event.preventDefault();
    const words = text.current?.value.trim() ?? '';
    if (words === '') return;
    actions.mark(words);
    actions.close();
  };
  return (
    <Modal title={words.mark}>
      <form onSubmit={submit}>
        <label class="field">
          {words.markText}
          <input ref={text} type="text" name="text" maxLength={200} required autoComplete="off" />
        </label>
        <DialogButtons accept={words.markSet} />
      </form>
    </Modal>
  );
}

function TargetDialog() {
  const actions = useActions();
  const force = useRef<HTMLInputElement>(null);
  const tolerance = useRef<HTMLInputElement>(null);
  const target = actions.model.station.peek().target;
  const submit = (event: Event): void => {
    event.preventDefault();
    const forceN = Number(force.current?.value);
    const tolerancePercent = Number(tolerance.current?.value);
    if (!(forceN > 0) || !(tolerancePercent >= 0)) return;
    writeSetting('tolerance', String(tolerancePercent));
    actions.setTarget(forceN, tolerancePercent);
    actions.close();
  };
  const clear = (): void => {
    actions.clearTarget();
    actions.close();
  };
  return (
    <Modal title={words.target}>
      <form onSubmit={submit}>
        <label class="field">
          {words.targetForce}
          <input
            ref={force}
            type="number"
            name="force"
            min="1"
            max="100000"
            step="any"
            required
            defaultValue={String(target?.forceN ?? '')}
          />
        </label>
        <label class="field">
          {words.targetTolerance}
          <input
            ref={tolerance}
            type="number"
            name="tolerance"
            min="0"
            max="100"
            step="any"
            required
            defaultValue={String(target?.tolerancePercent ?? readSetting('tolerance') ?? '10')}
          />
        </label>
        <DialogButtons accept={words.targetSet}>
          {target && (
            <button type="button" class="quiet" onClick={clear}>
              {words.targetClear}
            </button>
          )}
        </DialogButtons>
      </form>
    </Modal>
  );
}
