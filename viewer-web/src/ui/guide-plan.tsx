/** What a guided calibration is to be. The station judges it; here only what is typed becomes numbers. */

import { type Signal, useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import type { GuidePlan } from '../live/guide-api';
import { guideWords, readLoads } from '../text/guide-sentences';
import { readSetting, writeSetting } from './browser-settings';
import { useActions } from './context';
import { Safety } from './guide-panel';

const UNITS = ['kg', 'N', 'kgf', 'lbf'] as const;

export function GuidePlanForm() {
  const { guide } = useActions();
  const unit = useSignal<GuidePlan['unit']>('kg');
  const submit = (event: Event): void => {
    event.preventDefault();
    const plan = planOf(new FormData(event.currentTarget as HTMLFormElement));
    if (typeof plan === 'string') guide.failure.value = plan;
    else void guide.begin(plan);
  };
  return (
    <form class="guide-plan" onSubmit={submit} data-testid="guide-plan">
      <p>{guideWords.lead}</p>
      <Safety />
      <div class="guide-fields">
        <Field label={guideWords.by}>
          <input type="text" name="by" required maxLength={200} defaultValue={readSetting('calibratedBy') ?? ''} />
        </Field>
        <Unit unit={unit} />
        <Field label={guideWords.loads(unit.value)} hint={guideWords.loadsHint}>
          <input type="text" name="loads" required autoComplete="off" />
        </Field>
        <Field label={guideWords.off} hint={guideWords.offHint}>
          <Num name="off" value="" min={0} max={50} />
        </Field>
        <Field label={guideWords.described}>
          <input type="text" name="described" maxLength={200} />
        </Field>
        {unit.value === 'kg' && <Place />}
      </div>
      <More />
      <div class="buttons">
        <button type="submit" class="filled">
          {guideWords.begin}
        </button>
      </div>
    </form>
  );
}

/** In which unit the loads are given. */
export function Unit({ unit }: { readonly unit: Signal<GuidePlan['unit']> }) {
  return (
    <Field label={guideWords.kind}>
      <select
        name="unit"
        value={unit.value}
        onChange={(event) => {
          unit.value = event.currentTarget.value as GuidePlan['unit'];
        }}
      >
        {UNITS.map((one) => (
          <option key={one} value={one}>
            {guideWords.kinds[one]}
          </option>
        ))}
      </select>
    </Field>
  );
}

export function Place() {
  return (
    <>
      <Field label={guideWords.latitude} hint={guideWords.placeHint}>
        <Num name="latitude" value={readSetting('latitudeDeg') ?? ''} min={-90} max={90} optional />
      </Field>
      <Field label={guideWords.height}>
        <Num name="height" value={readSetting('heightM') ?? '0'} min={-500} max={9000} optional />
      </Field>
    </>
  );
}

function More() {
  return (
    <details class="guide-more">
      <summary>{guideWords.more}</summary>
      <div class="guide-fields">
        <Field label={guideWords.mountings}>
          <Num name="mountings" value="3" min={1} max={10} whole />
        </Field>
        <Field label={guideWords.runs}>
          <Num name="runs" value="1" min={1} max={5} whole />
        </Field>
        <Field label={guideWords.stretch}>
          <Num name="stretch" value="3" min={1} max={8} />
        </Field>
        <Field label={guideWords.wait}>
          <Num name="wait" value="10" min={0} max={300} whole />
        </Field>
        <Field label={guideWords.curve}>
          <select name="degree">
            <option value="1">{guideWords.curves[1]}</option>
            <option value="2">{guideWords.curves[2]}</option>
          </select>
        </Field>
        <Field label={guideWords.valid}>
          <Num name="valid" value="365" min={1} max={3660} whole />
        </Field>
      </div>
      <Check name="down" label={guideWords.down} />
      <Check name="preload" label={guideWords.preload} />
    </details>
  );
}

export function Field({ label, hint, children }: { label: string; hint?: string; children: ComponentChildren }) {
  return (
    // biome-ignore lint/a11y/noLabelWithoutControl: the control is the child
    <label class="field">
      {label}
      {children}
      {hint !== undefined && <span class="soft guide-hint">{hint}</span>}
    </label>
  );
}

interface NumProps {
  readonly name: string;
  readonly value: string;
  readonly min: number;
  readonly max: number;
  readonly whole?: boolean;
  readonly optional?: boolean;
}

export function Num({ name, value, min, max, whole, optional }: NumProps) {
  return (
    <input
      type="number"
      name={name}
      min={min}
      max={max}
      step={whole ? 1 : 'any'}
      required={!optional}
      defaultValue={value}
    />
  );
}

function Check({ name, label }: { readonly name: string; readonly label: string }) {
  return (
    <label class="check">
      <input type="checkbox" name={name} defaultChecked />
      {label}
    </label>
  );
}

/** The plan in a form, or what is wrong with it. */
export function planOf(form: FormData): GuidePlan | string {
  const text = (name: string): string => String(form.get(name) ?? '').trim();
  const loads = readLoads(text('loads'));
  if (loads === undefined) return 'The loads are numbers with spaces between, for example 5 10 20.';
  const unit = text('unit') as GuidePlan['unit'];
  const placed = unit === 'kg' && text('latitude') !== '';
  writeSetting('calibratedBy', text('by'));
  if (placed) {
    writeSetting('latitudeDeg', text('latitude'));
    writeSetting('heightM', text('height'));
  }
  return {
    by: text('by'),
    ...(text('described') === '' ? {} : { loadsDescribed: text('described') }),
    unit,
    // A limit says that all within is as likely: its standard uncertainty is a root of three less (GUM 4.3.7).
    loadUPercent: Number(text('off')) / Math.sqrt(3),
    ...(placed ? { latitudeDeg: Number(text('latitude')), heightM: Number(text('height')) } : {}),
    loads,
    down: form.get('down') !== null,
    mountings: Number(text('mountings')),
    runs: Number(text('runs')),
    preload: form.get('preload') !== null,
    degree: Number(text('degree')),
    stretchS: Number(text('stretch')),
    waitS: Number(text('wait')),
    validDays: Number(text('valid')),
  };
}
