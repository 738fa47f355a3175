/** What the trials from now on are. The station judges what is said; here only what is typed becomes numbers. */

import type { SaidOfTrials } from '../live/events';
import { CHOICES, trialWords } from '../text/trial-sentences';
import { useActions } from './context';
import { Field, Num } from './guide-plan';
import { DialogButtons, Modal } from './modal';

const NUMBERS = ['bodyMassKg', 'ownMaximumN', 'holdS', 'pullAngleLimitDeg'] as const;

export function TrialsDialog() {
  const actions = useActions();
  const { trials } = actions.model.station.peek();
  const limbs = actions.model.shown.peek().map((one) => one.limb);
  const both = limbs.includes('left') && limbs.includes('right');
  const submit = (event: Event): void => {
    event.preventDefault();
    actions.sayOfTrials(saidIn(new FormData(event.currentTarget as HTMLFormElement), trials));
    actions.close();
  };
  const clear = (): void => {
    actions.sayOfTrials({});
    actions.close();
  };
  return (
    <Modal title={trialWords.title} wide>
      <form onSubmit={submit} data-testid="trials-form">
        <p class="said-lead">{trialWords.lead}</p>
        <div class="said-fields">
          {Object.entries(CHOICES).map(([name, [label, choices]]) => (
            <Choice
              key={name}
              name={name}
              label={label}
              choices={choices}
              value={trials[name as keyof typeof CHOICES]}
            />
          ))}
          <Amount
            name="bodyMassKg"
            label={trialWords.bodyMass}
            hint={trialWords.bodyMassHint}
            value={trials.bodyMassKg}
            least={5}
            most={500}
          />
          {both ? (
            <>
              <Amount
                name="left.ownMaximumN"
                label={trialWords.ownMaximumLeft}
                hint={trialWords.ownMaximumHint}
                value={trials.left?.ownMaximumN ?? trials.ownMaximumN}
                least={1}
                most={50000}
              />
              <Amount
                name="right.ownMaximumN"
                label={trialWords.ownMaximumRight}
                value={trials.right?.ownMaximumN ?? trials.ownMaximumN}
                least={1}
                most={50000}
              />
            </>
          ) : (
            <Amount
              name="ownMaximumN"
              label={trialWords.ownMaximum}
              hint={trialWords.ownMaximumHint}
              value={trials.ownMaximumN}
              least={1}
              most={50000}
            />
          )}
          <Amount name="holdS" label={trialWords.hold} value={trials.holdS} least={0.1} most={3600} />
          <Amount
            name="pullAngleLimitDeg"
            label={trialWords.pullAngle}
            hint={trialWords.pullAngleHint}
            value={trials.pullAngleLimitDeg}
            least={0}
            most={60}
          />
        </div>
        <DialogButtons accept={trialWords.accept}>
          {Object.keys(trials).length > 0 && (
            <button type="button" class="quiet" onClick={clear}>
              {trialWords.clear}
            </button>
          )}
        </DialogButtons>
      </form>
    </Modal>
  );
}

interface ChoiceProps {
  readonly name: string;
  readonly label: string;
  readonly choices: Readonly<Record<string, string>>;
  readonly value: string | undefined;
}

function Choice({ name, label, choices, value }: ChoiceProps) {
  return (
    <Field label={label}>
      <select name={name}>
        <option value="">{trialWords.notSaid}</option>
        {Object.entries(choices).map(([word, text]) => (
          <option key={word} value={word} selected={word === value}>
            {text}
          </option>
        ))}
      </select>
    </Field>
  );
}

interface AmountProps {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly value: number | undefined;
  readonly least: number;
  readonly most: number;
}

function Amount({ name, label, hint, value, least, most }: AmountProps) {
  return (
    <Field label={label} {...(hint === undefined ? {} : { hint })}>
      <Num name={name} value={value === undefined ? '' : String(value)} min={least} max={most} optional />
    </Field>
  );
}

/** What the form says, and of what it does not ask, what was said before. */
export function saidIn(form: FormData, before: SaidOfTrials): SaidOfTrials {
  const said: Record<string, unknown> = { ...before };
  const put = (into: Record<string, unknown>, key: string, name: string, read: (text: string) => unknown): void => {
    const value = form.get(name);
    if (value === null) return;
    delete into[key];
    if (String(value) !== '') into[key] = read(String(value));
  };
  for (const name of Object.keys(CHOICES)) put(said, name, name, (text) => text);
  for (const name of NUMBERS) put(said, name, name, Number);
  if (said.bodyMassKg !== before.bodyMassKg) delete said.bodyMassStandardUncertaintyKg;
  for (const limb of ['left', 'right'] as const) {
    if (!form.has(`${limb}.ownMaximumN`)) continue;
    const own: Record<string, unknown> = { ...before[limb] };
    put(own, 'ownMaximumN', `${limb}.ownMaximumN`, Number);
    delete said[limb];
    if (Object.keys(own).length > 0) said[limb] = own;
    delete said.ownMaximumN; // one number for both would hold where a limb's was taken out
  }
  return said as SaidOfTrials;
}
