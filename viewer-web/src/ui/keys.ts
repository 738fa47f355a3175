/**
 * Every key of the viewer, in one list: what it does and how the help overlay says it. Letters work without modifier; they
 * can be switched off in the help overlay, for people who speak to their machine or rest a hand on the keys (WCAG 2.1.4).
 */

import type { ViewerActions } from './viewer-actions';

/** What stands in the middle of the page: the live trace, one contraction, one cell, or its calibration. Each has keys of its own. */
export type Place = 'view' | 'review' | 'cell' | 'guide';

export interface KeyCommand {
  readonly keys: readonly string[];
  /** As printed in the help overlay. */
  readonly label: string;
  readonly words: string;
  readonly group: Place | 'station' | 'replay' | 'page';
  readonly run: (actions: ViewerActions) => void;
}

const PLACES: readonly Place[] = ['view', 'review', 'cell', 'guide'];
const SMALL_STEP = 0.1;
const LARGE_STEP = 0.8;

export const KEY_COMMANDS: readonly KeyCommand[] = [
  {
    keys: [' '],
    label: 'Space',
    words: 'Hold the view, or follow the stream again',
    group: 'view',
    run: (a) => a.toggleHold(),
  },
  { keys: ['ArrowLeft'], label: '\u2190', words: 'Look back a little', group: 'view', run: (a) => a.look(-SMALL_STEP) },
  {
    keys: ['ArrowRight'],
    label: '\u2192',
    words: 'Come forward a little',
    group: 'view',
    run: (a) => a.look(SMALL_STEP),
  },
  {
    keys: ['PageUp', 'Shift+ArrowLeft'],
    label: 'Page up',
    words: 'Look back almost a window',
    group: 'view',
    run: (a) => a.look(-LARGE_STEP),
  },
  {
    keys: ['PageDown', 'Shift+ArrowRight'],
    label: 'Page down',
    words: 'Come forward almost a window',
    group: 'view',
    run: (a) => a.look(LARGE_STEP),
  },
  { keys: ['Home'], label: 'Home', words: 'Go to the oldest samples', group: 'view', run: (a) => a.toOldest() },
  { keys: ['End'], label: 'End', words: 'Follow the stream', group: 'view', run: (a) => a.followStream() },
  { keys: ['+', '='], label: '+', words: 'Shorter window', group: 'view', run: (a) => a.zoom(-1) },
  { keys: ['-'], label: '\u2212', words: 'Longer window', group: 'view', run: (a) => a.zoom(1) },
  {
    keys: ['Enter'],
    label: 'Enter',
    words: 'Look at the newest contraction in view',
    group: 'view',
    run: (a) => a.openReviewInView(),
  },
  { keys: ['PageUp'], label: 'Page up', words: 'Previous contraction', group: 'review', run: (a) => a.review.go(-1) },
  { keys: ['PageDown'], label: 'Page down', words: 'Next contraction', group: 'review', run: (a) => a.review.go(1) },
  {
    keys: ['o'],
    label: 'O',
    words: 'The other limb of the same effort',
    group: 'review',
    run: (a) => a.review.openPartner(),
  },
  { keys: ['1'], label: '1', words: 'To the onset', group: 'review', run: (a) => a.review.reach('onset') },
  {
    keys: ['2'],
    label: '2',
    words: 'To the start of the release',
    group: 'review',
    run: (a) => a.review.reach('release'),
  },
  { keys: ['3'], label: '3', words: 'To the offset', group: 'review', run: (a) => a.review.reach('offset') },
  { keys: ['w'], label: 'W', words: 'Show the whole contraction', group: 'review', run: (a) => a.review.show('whole') },
  { keys: ['u', 'Ctrl+z'], label: 'U', words: 'Undo the last move', group: 'review', run: (a) => a.review.undo() },
  { keys: ['y', 'Ctrl+y'], label: 'Y', words: 'Redo it', group: 'review', run: (a) => a.review.redo() },
  {
    keys: ['b'],
    label: 'B',
    words: 'Back to the automatic boundaries',
    group: 'review',
    run: (a) => a.review.automatic(),
  },
  { keys: ['Escape'], label: 'Esc', words: 'Back to the live trace', group: 'review', run: (a) => a.closeReview() },
  { keys: ['Escape'], label: 'Esc', words: 'Back to the live trace', group: 'cell', run: (a) => a.closeCell() },
  { keys: ['g'], label: 'G', words: 'Calibrate this cell', group: 'cell', run: (a) => a.guideCell() },
  { keys: ['Enter'], label: 'Enter', words: 'Take the reading', group: 'guide', run: (a) => void a.guide.take() },
  {
    keys: ['Backspace'],
    label: 'Backspace',
    words: 'Take the last step back',
    group: 'guide',
    run: (a) => void a.guide.undo(),
  },
  { keys: ['Escape'], label: 'Esc', words: 'Back to the cell', group: 'guide', run: (a) => a.closeGuide() },
  {
    keys: ['k'],
    label: 'K',
    words: 'Look at the next cell, for whoever wires it',
    group: 'page',
    run: (a) => a.nextCell(),
  },
  { keys: ['z'], label: 'Z', words: 'Take the zero of all limbs', group: 'station', run: (a) => a.zeroAll() },
  {
    keys: ['['],
    label: '[',
    words: 'Take the zero of the left limb',
    group: 'station',
    run: (a) => a.zeroLimb('left'),
  },
  {
    keys: [']'],
    label: ']',
    words: 'Take the zero of the right limb',
    group: 'station',
    run: (a) => a.zeroLimb('right'),
  },
  { keys: ['s'], label: 'S', words: 'Check which cell is left', group: 'station', run: (a) => a.open('sides') },
  {
    keys: ['e'],
    label: 'E',
    words: 'Compare both cells with one mass',
    group: 'station',
    run: (a) => a.open('compare'),
  },
  {
    keys: ['a'],
    label: 'A',
    words: 'Align both cells by a knock',
    group: 'station',
    run: (a) => a.open('tap'),
  },
  { keys: ['r'], label: 'R', words: 'Start or stop the recording', group: 'station', run: (a) => a.toggleRecording() },
  { keys: ['m'], label: 'M', words: 'Set a mark', group: 'station', run: (a) => a.open('mark') },
  { keys: ['i'], label: 'I', words: 'Say what the trials are', group: 'station', run: (a) => a.open('trials') },
  { keys: ['t'], label: 'T', words: 'Set the target', group: 'station', run: (a) => a.open('target') },
  { keys: ['p'], label: 'P', words: 'Pause or resume the replay', group: 'replay', run: (a) => a.toggleReplay() },
  { keys: [','], label: ',', words: 'Replay slower', group: 'replay', run: (a) => a.stepReplaySpeed(-1) },
  { keys: ['.'], label: '.', words: 'Replay faster', group: 'replay', run: (a) => a.stepReplaySpeed(1) },
  { keys: ['0'], label: '0', words: 'Replay from the start', group: 'replay', run: (a) => a.restartReplay() },
  { keys: ['d'], label: 'D', words: 'All figures of the newest effort', group: 'page', run: (a) => a.toggleNewest() },
  { keys: ['l'], label: 'L', words: 'Links and timing', group: 'page', run: (a) => a.toggleLinks() },
  { keys: ['n'], label: 'N', words: 'Light or dark', group: 'page', run: (a) => a.theme.next() },
  { keys: ['c'], label: 'C', words: 'Cautions', group: 'page', run: (a) => a.open('cautions') },
  { keys: ['?'], label: '?', words: 'These keys', group: 'page', run: (a) => a.open('help') },
];

export const KEY_GROUPS = {
  view: 'The live trace',
  review: 'One contraction',
  cell: 'One cell',
  guide: 'Calibrating a cell',
  station: 'The station',
  replay: 'A replay',
  page: 'The page',
} as const;

/**
 * The command of a key press; undefined where the press belongs to something else.
 *
 * @param place what stands in the middle of the page
 */
export function commandFor(press: KeyPress, lettersOn: boolean, place: Place = 'view'): KeyCommand | undefined {
  if (press.altKey || press.metaKey) return undefined;
  const key = press.key.length === 1 ? press.key.toLowerCase() : press.key;
  if (!lettersOn && !press.ctrlKey && key.length === 1 && key !== ' ') return undefined;
  const shift = press.shiftKey && press.key.startsWith('Arrow') ? 'Shift+' : '';
  const name = `${press.ctrlKey ? 'Ctrl+' : ''}${shift}${key}`;
  const elsewhere = PLACES.filter((one) => one !== place);
  return KEY_COMMANDS.find((command) => !elsewhere.some((one) => one === command.group) && command.keys.includes(name));
}

export interface KeyPress {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly altKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
}

/** True where the focused element needs the key itself: text fields take all, buttons the space, lists the arrows. */
export function isTaken(press: KeyPress, target: { tagName: string; type?: string } | undefined): boolean {
  switch (target?.tagName) {
    case 'INPUT':
      return (
        target.type !== 'range' ||
        press.key.startsWith('Arrow') ||
        ['Home', 'End', 'PageUp', 'PageDown'].includes(press.key)
      );
    case 'TEXTAREA':
    case 'SELECT':
      return true;
    case 'BUTTON':
    case 'SUMMARY':
    case 'A':
      return press.key === ' ' || press.key === 'Enter';
    default:
      return false;
  }
}
