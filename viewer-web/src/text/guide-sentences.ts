/** What the guided calibration says. Plain words first; a term of the trade only beside them. */

import { writeCount } from '../format/number';
import { decimalsFor, withUnit, writeFixed } from '../format/quantity';
import type { Guide, GuideLevel, GuideStep, LoadFigures, SavedVersion } from '../live/guide-api';

export const guideWords = {
  title: (name: string): string => (name === '' ? 'Calibrate a cell' : `Calibrate the cell: ${name}`),
  calibrate: 'Calibrate this cell',
  goOn: 'Go on with the calibration',
  onItsWay: 'A calibration is on its way.',
  otherOnItsWay: (name: string): string => `A calibration of the cell ${name} is on its way.`,
  back: 'Back to the cell',
  lead: 'You put known loads on the cell and take them off again, one after the other; the station reads the cell at each and works out how many newtons a count is, and how far that can be trusted. About an hour; you can stop and go on later.',
  safety: [
    'Lift with bent knees and the load close to you; two people from about 20\u00a0kg.',
    'Hang or lay every load so that it cannot fall, and keep feet and hands from under it.',
    'Never load the cell beyond what it is made for.',
  ],
  by: 'Who calibrates',
  kind: 'What loads the cell',
  kinds: {
    kg: 'masses, in kg',
    N: 'a reference cell, in N',
    kgf: 'a reference cell, in kgf',
    lbf: 'a reference cell, in lbf',
  },
  loads: (unit: string): string => `The loads / ${unit}, each greater than the one before`,
  loadsHint: 'As weighed, hanger included, with spaces between: 5.01 10.03 20.08. Reach as high as you will measure.',
  off: 'By how much a load may be off at most / %',
  offHint:
    'From the sheet of the scale or of the reference. No reading can show it. Plates that nobody weighed are commonly off by 1 to 2\u00a0%.',
  described: 'Which loads they are (for the certificate)',
  latitude: 'Latitude of the place / degrees, north positive',
  height: 'Height above the sea / m',
  placeHint:
    'A mass weighs up to 0.27\u00a0% more or less from place to place. Leave the latitude empty if you do not know it.',
  more: 'How it is done',
  mountings: 'How often the cell is mounted',
  runs: 'Runs in each mounting',
  down: 'Read on the way down as well',
  preload: 'Load and unload three times before each mounting is read',
  curve: 'Curve',
  curves: { 1: 'straight line', 2: 'parabola, for a cell that is bent' },
  stretch: 'Each reading is the mean of / s',
  wait: 'Before each reading the cell is still for / s',
  valid: 'Valid for / days',
  begin: 'Begin',
  cancel: 'Cancel the calibration',
  cancelSure: 'Discard it, nothing is saved',
  keepOn: 'Keep it',
  take: 'Take the reading',
  takeAnyway: 'Take it though it moves',
  confirm: 'Done',
  undo: 'Take the last step back',
  repeat: 'Repeat that step',
  reference: (unit: string): string => `What the reference shows / ${unit}`,
  taken: 'Readings so far',
  keys: 'Enter takes, Backspace takes the last step back.',
  cellGone: 'The cell is not there. Plug it in again; the calibration waits.',
  result: 'Result',
  fits: 'Every figure is within its limit.',
  noConformity:
    'The terms are those of ISO\u00a0376 so that numbers can be compared; no conformity with it or any other standard is claimed.',
  notGiven: 'These readings give no calibration:',
  residuals: 'Reading less curve',
  residualsSay:
    'Dots: mean reading less curve. Bars: where one later reading lies 95 times of 100. Dashed: the limit of the interpolation error.',
  save: 'Save and use it',
  savedAs: (id: string): string => `Saved as ${id}`,
  savedUsed: 'The station uses it from now on. Take the zero again before you measure.',
  savedLater: 'The station uses it from its next start.',
  certificate: 'Certificate',
  finish: 'Close',
  versions: 'Calibrations of this cell',
  noVersions: 'None saved in this station.',
  use: 'Use this one',
} as const;

/** A load as people write it. */
export function loadText(applied: number, unit: string): string {
  const digits = Math.abs(applied) >= 100 ? 1 : 2;
  const text = writeFixed(applied, Math.abs(applied - Math.round(applied * 100) / 100) > 1e-9 ? digits + 1 : digits);
  return withUnit(text, unit);
}

/** What is to be done now. */
export function instruction(step: GuideStep, before: GuideStep | undefined, unit: string): string {
  switch (step.kind) {
    case 'mount':
      return 'Take the cell out, turn it, and put it in again.';
    case 'preload':
      return `Put ${loadText(step.applied, unit)} on and take it off again, three times, slowly.`;
    case 'read': {
      if (step.applied === 0) return 'Take everything off.';
      const from = before?.kind === 'read' ? before.applied : 0;
      if (unit !== 'kg') return `Bring the reference to ${loadText(step.applied, unit)}.`;
      if (from === 0) return `Put ${loadText(step.applied, unit)} on.`;
      return step.increasing
        ? `Load up to ${loadText(step.applied, unit)}, without going over.`
        : `Take off down to ${loadText(step.applied, unit)}, without going under.`;
    }
  }
}

/** Where it stands. */
export function progressText(guide: Guide): string {
  const step = guide.steps[guide.done];
  const total = guide.steps.length;
  if (step === undefined) return `All ${total} steps are done.`;
  const parts = [`Step ${guide.done + 1} of ${total}`];
  if (guide.plan.mountings > 1) parts.push(`mounting ${step.mounting} of ${guide.plan.mountings}`);
  if (step.kind === 'read') parts.push(step.increasing ? 'going up' : 'going down');
  return parts.join(', ');
}

/** The live reading, in the unit of the loads where earlier readings tell it, and in counts. */
export function levelText(level: GuideLevel, unit: string): string {
  if (level.meanCounts === undefined || level.sdCounts === undefined) return '\u2013';
  const counts = `${writeCount(level.meanCounts)} counts, scatter ${writeCount(level.sdCounts)}`;
  return level.shown === undefined ? counts : `about ${withUnit(writeFixed(level.shown, 2), unit)} (${counts})`;
}

export function statusText(level: GuideLevel): string {
  return level.ready ? 'Quiet. Take the reading.' : (level.why ?? '');
}

/** One line of the list of readings. */
export function takenText(step: GuideStep, unit: string): string {
  const { taken } = step;
  if (taken === undefined) return '';
  if (step.kind !== 'read') return step.kind === 'mount' ? `Mounting ${step.mounting}` : 'Loaded and unloaded';
  const load = step.applied === 0 ? 'empty' : loadText(taken.applied, unit);
  return `${load}, ${step.increasing ? 'up' : 'down'}: ${writeCount(taken.meanCounts)} counts, scatter ${writeCount(taken.sdCounts)}`;
}

/** The columns of the result: plain words, and the term of the trade. */
export const FIGURES = [
  { key: 'repeatabilityPercent', limit: 'repeatability', title: 'again, same mounting', term: 'repeatability' },
  { key: 'reproducibilityPercent', limit: 'reproducibility', title: 'between mountings', term: 'reproducibility' },
  { key: 'interpolationErrorPercent', limit: 'interpolation', title: 'off the curve', term: 'interpolation error' },
  { key: 'zeroErrorPercent', limit: 'zero', title: 'empty after, before', term: 'zero error' },
  { key: 'reversibilityPercent', limit: 'reversibility', title: 'down against up', term: 'reversibility' },
] as const;

export function percentText(value: number | undefined): string {
  return value === undefined ? '\u2013' : writeFixed(value, 3);
}

/** A size with two digits that matter. */
export function sizeText(value: number, of = value): string {
  return writeFixed(value, Math.max(0, decimalsFor(Math.max(Math.abs(of), 1e-6))));
}

export function isBeyond(load: LoadFigures, key: (typeof FIGURES)[number]['key'], limit: number | undefined): boolean {
  const value = load[key];
  return value !== undefined && limit !== undefined && Math.abs(value) > limit;
}

export function versionText(version: SavedVersion): string {
  const by = version.calibratedBy === '' ? '' : ` by ${version.calibratedBy}`;
  const curve = version.parabola ? ', parabola' : '';
  const until = version.over ? `was valid until ${version.validUntil}` : `valid until ${version.validUntil}`;
  return `Version ${version.version}, ${version.evaluatedOn}${by}${curve}, ${until}`;
}

/** The loads that a person typed; absent where something is no number. A comma within a number is a decimal point. */
export function readLoads(text: string): readonly number[] | undefined {
  const parts = text
    .split(/[\s;]+/)
    .map((part) => part.replace(/,$/, '').replace(',', '.'))
    .filter((part) => part !== '');
  const loads = parts.map(Number);
  return loads.length > 0 && loads.every(Number.isFinite) ? loads : undefined;
}
