/** Light, dark, or as the system has it; kept in this browser. */

import { signal } from '@preact/signals';
import { readSetting, writeSetting } from './browser-settings';

export type ThemeChoice = 'system' | 'light' | 'dark';

const ORDER: readonly ThemeChoice[] = ['system', 'light', 'dark'];
const SCHEMES = { system: 'light dark', light: 'light', dark: 'dark' } as const;

export class Theme {
  readonly choice = signal<ThemeChoice>('system');
  /** Counts changes of the colours in force, whoever made them. */
  readonly changes = signal(0);

  constructor() {
    const kept = readSetting('theme');
    this.set(ORDER.find((choice) => choice === kept) ?? 'system');
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => {
      this.changes.value++;
    });
  }

  next(): void {
    this.set(ORDER[(ORDER.indexOf(this.choice.value) + 1) % ORDER.length] ?? 'system');
  }

  private set(choice: ThemeChoice): void {
    this.choice.value = choice;
    document.documentElement.style.colorScheme = SCHEMES[choice];
    writeSetting('theme', choice);
    this.changes.value++;
  }
}
