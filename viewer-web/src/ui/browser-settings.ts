/** Small things that this browser remembers; where it must not, the viewer works without. */

const PREFIX = 'heldmark.';

export function readSetting(name: string): string | undefined {
  try {
    return localStorage.getItem(PREFIX + name) ?? undefined;
  } catch {
    return undefined;
  }
}

export function writeSetting(name: string, value: string): void {
  try {
    localStorage.setItem(PREFIX + name, value);
  } catch {
    // Storage is switched off in this browser: the choice lasts as long as the page.
  }
}
