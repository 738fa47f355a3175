/** What is said of trials, in words: of the dialog, and of the line below the station's buttons. */

import type { Said, SaidOfTrials } from '../live/events';

export const trialWords = {
  button: 'About trials',
  title: 'What the trials are',
  lead: 'It holds from the next effort on, is recorded, and decides what may be said of a number: a rate of force development, for example, only of a fast and hard effort against a rigid rig.',
  notSaid: 'Not said',
  cue: 'The person is told to push',
  cues: { explosive: 'fast and hard', ramped: 'over a second or two, and hold' },
  fixation: 'The cell is held by',
  fixations: {
    hand: 'the tester\u2019s hand',
    belt: 'a belt or strap',
    rigid: 'a rigid rig, or a strap whose stiffness was checked',
  },
  contact: 'The limb acts on',
  contacts: { cuff: 'a cuff about it', heelPlate: 'a plate under the heel' },
  effortType: 'The muscle works',
  effortTypes: { isometric: 'against something that does not move', eccentric: 'while it is lengthened (lowering)' },
  zeroing: 'The zero is taken with',
  zeroings: { inPosture: 'the limb in place and relaxed', unloaded: 'nothing on the cell' },
  bodyMass: 'Body mass / kg',
  bodyMassHint: 'Its standard uncertainty is taken as 0.5 kg (a bathroom scale).',
  ownMaximum: 'Own maximum on this test / N',
  ownMaximumLeft: 'Own maximum, left / N',
  ownMaximumRight: 'Own maximum, right / N',
  ownMaximumHint: 'Rates of force development need 80 % of it.',
  hold: 'To be held for / s',
  pullAngle: 'Pull off its line by at most / \u00b0',
  pullAngleHint: 'It goes into the uncertainty of every force.',
  accept: 'Say so from now on',
  clear: 'Say nothing',
} as const;

/** The words of each choice, in the order of the dialog. */
export const CHOICES = {
  cue: [trialWords.cue, trialWords.cues],
  fixation: [trialWords.fixation, trialWords.fixations],
  contact: [trialWords.contact, trialWords.contacts],
  effortType: [trialWords.effortType, trialWords.effortTypes],
  zeroing: [trialWords.zeroing, trialWords.zeroings],
} as const satisfies Partial<Record<keyof Said, readonly [string, Record<string, string>]>>;

/** One line that says what is said; empty where nothing is. */
export function saidText(said: SaidOfTrials): string {
  const parts = [...partsOf(said)];
  for (const limb of ['left', 'right'] as const) {
    const own = partsOf(said[limb] ?? {});
    if (own.length > 0) parts.push(`${limb}: ${own.join(', ')}`);
  }
  return parts.length === 0 ? '' : `Trials: ${parts.join('; ')}.`;
}

function partsOf(said: Said): string[] {
  const parts: string[] = [];
  if (said.cue) parts.push(`pushed ${trialWords.cues[said.cue]}`);
  if (said.fixation) parts.push(`cell held by ${trialWords.fixations[said.fixation]}`);
  if (said.contact) parts.push(`on ${trialWords.contacts[said.contact]}`);
  if (said.effortType) parts.push(trialWords.effortTypes[said.effortType]);
  if (said.zeroing) parts.push(`zero with ${trialWords.zeroings[said.zeroing]}`);
  if (said.gravity) parts.push(GRAVITY[said.gravity]);
  number(said.bodyMassKg, 'kg', 'body mass', parts);
  number(said.ownMaximumN, 'N', 'own maximum', parts);
  number(said.targetForceN, 'N', 'to hold', parts);
  number(said.holdS, 's', 'for', parts);
  number(said.leverArmM, 'm', 'lever arm', parts);
  number(said.angleDeg, '\u00b0', 'joint at', parts);
  number(said.pullAngleLimitDeg, '\u00b0', 'pull within', parts);
  return parts;
}

const GRAVITY = {
  removedByZero: 'limb\u2019s weight removed by the zero',
  add: 'limb\u2019s weight added',
  subtract: 'limb\u2019s weight subtracted',
  none: 'limb\u2019s weight left in',
} as const;

function number(value: number | undefined, unit: string, name: string, parts: string[]): void {
  if (value === undefined) return;
  const space = unit === '\u00b0' ? '' : '\u00a0';
  parts.push(`${name} ${value}${space}${unit}`);
}
