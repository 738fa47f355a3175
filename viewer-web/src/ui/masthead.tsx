/** The head of the page: what this is, what it is doing, and the ways to keys, cautions and colours. */

import { useComputed } from '@preact/signals';
import { writeClock } from '../format/time';
import { sessionText } from '../text/state-sentences';
import { words } from '../text/words';
import { useActions } from './context';

const THEME_WORDS = { system: words.themeAuto, light: words.themeLight, dark: words.themeDark } as const;

export function Masthead() {
  const actions = useActions();
  const { model } = actions;
  const session = useComputed(() => {
    const { session: known, replay } = model.station.value;
    if (known === undefined) return '';
    const started = known.startedAtMs === undefined ? undefined : writeClock(known.startedAtMs).slice(0, 5);
    return sessionText(known.mode, started, replay);
  });
  return (
    <header class="masthead">
      <h1 class="wordmark">{words.product}</h1>
      <p class="session">{session.value}</p>
      <nav class="page-links" aria-label="Page">
        <button type="button" class="link" onClick={() => actions.theme.next()}>
          {THEME_WORDS[actions.theme.choice.value]}
        </button>
        <button type="button" class="link" aria-keyshortcuts="c" onClick={() => actions.open('cautions')}>
          {words.cautions}
        </button>
        <button type="button" class="link" aria-keyshortcuts="?" onClick={() => actions.open('help')}>
          {words.keys}
        </button>
      </nav>
    </header>
  );
}

/** Invented data must never be taken for measured data: the note stays as long as they are on the page. */
export function InventedNote() {
  const { model } = useActions();
  const invented = useComputed(() => model.station.value.session?.invented === true);
  if (!invented.value) return null;
  return (
    <p class="invented" data-testid="invented">
      <strong>{words.invented}.</strong> {words.inventedText}
    </p>
  );
}
