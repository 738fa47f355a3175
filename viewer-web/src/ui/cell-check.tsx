/** The quick check of a cell, the checks before, and its overloads. */

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { CheckPlan, CheckState } from '../live/check-api';
import type { GuidePlan } from '../live/guide-api';
import { checkText, checkWords, overloadText } from '../text/check-sentences';
import { guideWords, levelText, statusText } from '../text/guide-sentences';
import { readSetting, writeSetting } from './browser-settings';
import { useActions } from './context';
import { Field, Num, Place, Unit } from './guide-plan';

const SHOWN_MOST = 5;

export function CellCheck({ channel }: { readonly channel: number }) {
  const { check, model } = useActions();
  const state = check.states.value.get(channel);
  useEffect(() => {
    check.show(channel);
    return () => check.hide();
  }, [channel]);
  const live = model.station.value.session?.mode === 'live';
  return (
    <section class="facts cell-calibrations" data-testid="check">
      <h3>{checkWords.title}</h3>
      {state?.warnings.map((one) => (
        <p key={one.id} class="note">
          {one.text}
        </p>
      ))}
      <p role="status" class="guide-failure">
        {check.failure.value ?? ''}
      </p>
      {live &&
        state &&
        (state.running ? (
          <Running channel={channel} running={state.running} />
        ) : (
          <Begin key={channel} channel={channel} last={state.checks[0]} />
        ))}
      {state && <Lists state={state} />}
    </section>
  );
}

function Lists({ state }: { readonly state: CheckState }) {
  return (
    <>
      {state.checks.length > 0 && (
        <>
          <h4>{checkWords.earlier}</h4>
          <ul data-testid="checks">
            {state.checks.slice(0, SHOWN_MOST).map((one) => (
              <li key={one.at}>{checkText(one)}</li>
            ))}
          </ul>
        </>
      )}
      <h4>{checkWords.overloads}</h4>
      {state.overloads.length === 0 ? (
        <p class="soft">{checkWords.noOverloads}</p>
      ) : (
        <ul data-testid="overloads">
          {state.overloads.slice(0, SHOWN_MOST).map((one) => (
            <li key={one.at}>{overloadText(one)}</li>
          ))}
        </ul>
      )}
    </>
  );
}

function Running({ channel, running }: { channel: number; running: NonNullable<CheckState['running']> }) {
  const { check } = useActions();
  return (
    <>
      <p class="guide-level" aria-live="polite" data-testid="check-instruction">
        {running.next === 'zero' ? checkWords.empty : checkWords.put(running.load, running.unit)}
      </p>
      <p class="soft">{levelText(running.level, running.unit)}</p>
      <p role="status" data-testid="check-status">
        {statusText(running.level)}
      </p>
      <div class="buttons">
        <button type="button" class="filled" onClick={() => void check.take(channel)}>
          {checkWords.take}
        </button>
        <button type="button" class="quiet" onClick={() => void check.cancel(channel)}>
          {checkWords.cancel}
        </button>
      </div>
    </>
  );
}

function Begin({ channel, last }: { readonly channel: number; readonly last: CheckPlan | undefined }) {
  const { check } = useActions();
  const unit = useSignal<GuidePlan['unit']>(last?.unit ?? 'kg');
  const submit = (event: Event): void => {
    event.preventDefault();
    void check.begin(channel, planOf(new FormData(event.currentTarget as HTMLFormElement)));
  };
  return (
    <details class="guide-more">
      <summary>{checkWords.begin}</summary>
      <form onSubmit={submit} data-testid="check-plan">
        <p>{checkWords.lead}</p>
        <div class="guide-fields">
          <Unit unit={unit} />
          <Field label={checkWords.load(unit.value)}>
            <Num name="load" value={last === undefined ? '' : String(last.load)} min={0.001} max={100_000} />
          </Field>
          <Field label={guideWords.off} hint={guideWords.offHint}>
            <Num name="off" value={readSetting('checkOffPercent') ?? ''} min={0} max={50} />
          </Field>
          <Field label={checkWords.by}>
            <input type="text" name="by" maxLength={200} defaultValue={readSetting('calibratedBy') ?? ''} />
          </Field>
          {unit.value === 'kg' && <Place />}
        </div>
        <div class="buttons">
          <button type="submit" class="filled">
            {guideWords.begin}
          </button>
        </div>
      </form>
    </details>
  );
}

function planOf(form: FormData): CheckPlan {
  const text = (name: string): string => String(form.get(name) ?? '').trim();
  const unit = text('unit') as GuidePlan['unit'];
  const placed = unit === 'kg' && text('latitude') !== '';
  writeSetting('checkOffPercent', text('off'));
  writeSetting('calibratedBy', text('by'));
  if (placed) {
    writeSetting('latitudeDeg', text('latitude'));
    writeSetting('heightM', text('height'));
  }
  return {
    by: text('by'),
    load: Number(text('load')),
    unit,
    // A limit says that all within is as likely: its standard uncertainty is a root of three less (GUM 4.3.7).
    loadUPercent: Number(text('off')) / Math.sqrt(3),
    ...(placed ? { latitudeDeg: Number(text('latitude')), heightM: Number(text('height')) } : {}),
  };
}
