/** The recording of the demo, played by `heldmark replay` into the viewer: what it shows is what the station found live. */

import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Contraction, Effort } from '../../src/live/events';
import { asymmetrySentence, limbPhrase } from '../../src/text/result-sentences';
import { until, type Visit, withVisit } from '../support';

let seen: Visit;
let page: Page;

withVisit((opened) => {
  seen = opened;
  page = opened.page;
});

const position = (): Promise<string> => page.locator('.replay-position').innerText();
const shown = (): Promise<string[]> => page.getByTestId('efforts').locator('> li').allInnerTexts();

async function playToTheEnd(): Promise<string[]> {
  await page.locator('.speed select').selectOption('0');
  await until(position, (text) => text.endsWith(', ended'), 90_000);
  return shown();
}

/**
 * The sentences of every effort of both limbs, the newest first, from the lines that `heldmark replay --json` printed. Of an effort
 * whose boundaries somebody moved the last word counts.
 */
function expected(): string[][] {
  const contractions = new Map<number, Contraction>();
  const efforts = new Map<number, Effort>();
  for (const line of readFileSync(process.env.HELDMARK_REPLAY ?? '', 'utf8')
    .trim()
    .split('\n')) {
    const event = JSON.parse(line) as { readonly type: string };
    if (event.type === 'contraction') contractions.set((event as Contraction).id, event as Contraction);
    if (event.type === 'effort') efforts.set((event as Effort).id, event as Effort);
  }
  return [...efforts.values()].reverse().map((effort) => {
    const [left, right] = [effort.leftContractionId, effort.rightContractionId].map((id) => contractions.get(id));
    if (left === undefined || right === undefined) expect.fail(`an effort without contractions: ${effort.id}`);
    return [limbPhrase('Left', left), limbPhrase('Right', right), asymmetrySentence(effort)];
  });
}

describe('a replay of the demo', () => {
  it('should play, wait where it is told to, and draw while it plays', async () => {
    await until(position, (text) => /^\S+ of \S+$/.test(text));
    const before = await position();
    await until(position, (text) => text !== before);
    await page.keyboard.press('p');
    const button = page.getByTestId('replay').getByRole('button').first();
    await until(
      () => button.innerText(),
      (text) => text === 'Resume replay',
    );
    await page.keyboard.press('p');
    await until(
      () => button.innerText(),
      (text) => text === 'Pause replay',
    );
    await until(
      () => page.locator('.figure-value').allInnerTexts(),
      (texts) => texts.length === 2 && texts.every((text) => /\d/.test(text)),
    );
  });

  it('should show the efforts that were found live, each figure alike, and again when it is played again', async () => {
    const first = await playToTheEnd();
    const wanted = expected();
    const ofBoth = first.filter((text) => text.includes('Left against right'));
    expect(wanted.length).toBeGreaterThan(0);
    expect(ofBoth.length).toBeGreaterThan(0);
    for (const [i, text] of ofBoth.entries()) {
      for (const sentence of wanted[i] ?? ['one effort more than was found live']) expect(text).toContain(sentence);
    }
    await page.keyboard.press('0');
    await until(position, (text) => !text.endsWith(', ended'));
    expect(await playToTheEnd()).toEqual(first);
  });

  it('should have caused no error', () => {
    expect(seen.faults).toEqual([]);
  });
});
