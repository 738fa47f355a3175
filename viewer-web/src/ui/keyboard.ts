/** Listens for the keys of keys.ts on the whole page. */

import { signal } from '@preact/signals';
import { readSetting } from './browser-settings';
import { commandFor, isTaken } from './keys';
import type { ViewerActions } from './viewer-actions';

/** False where the person has switched the keys with letters and signs off. */
export const lettersOn = signal(readSetting('letters') !== 'off');

export function listenForKeys(actions: ViewerActions): void {
  document.addEventListener('keydown', (event) => {
    if (event.defaultPrevented || actions.panel.value !== undefined) return;
    const target = event.target instanceof HTMLElement ? event.target : undefined;
    const type = target instanceof HTMLInputElement ? target.type : '';
    if (isTaken(event, target && { tagName: target.tagName, type })) return;
    const command = commandFor(event, lettersOn.value, actions.place());
    if (command === undefined) return;
    event.preventDefault();
    command.run(actions);
  });
}
