/** A quick check of a simulated cell: one that holds, then one with a mass that is not what it is said to be. */

import { appendFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, describe, expect, it } from 'vitest';
import { until, type Visit, violations, withVisit } from '../support';

const LOAD_N = 200;

let seen: Visit;
let page: Page;

withVisit((opened) => {
  seen = opened;
  page = opened.page;
});

afterAll(() => {
  hang('free right');
});

function hang(line: string): void {
  const file = process.env.HELDMARK_DEMO_CONTROL;
  if (!file) throw new Error('HELDMARK_DEMO_CONTROL is not set: it must be the control file of the demo');
  appendFileSync(file, `${line}\n`);
}

/** Checks the cell with a load that is called 200 N; returns the newest line of the list. */
async function check(trueN: number): Promise<string> {
  const list = page.getByTestId('checks').locator('li');
  const form = page.getByTestId('check-plan');
  if (!(await form.isVisible())) await page.getByText('Check this cell').click();
  await form.locator('[name=unit]').selectOption('N');
  await form.locator('[name=load]').fill(String(LOAD_N));
  await form.locator('[name=off]').fill('0.1');
  hang('hang right 0');
  await form.getByRole('button', { name: 'Begin' }).click();
  await reading('Take everything off the cell.');
  hang(`hang right ${trueN}`);
  await reading('Put 200.0\u00a0N on.');
  await page.getByTestId('check-instruction').waitFor({ state: 'detached' });
  return list.first().innerText();
}

/** Presses until the station takes the reading: noise may look like movement in the moment of the press. */
async function reading(instruction: string): Promise<void> {
  const shown = page.getByTestId('check-instruction');
  await until(
    () => shown.innerText(),
    (text) => text === instruction,
  );
  await page.waitForTimeout(1500); // What hung before was still, too.
  await until(
    async () => {
      if ((await shown.count()) === 0 || (await shown.innerText()) !== instruction) return true;
      const status = await page.getByTestId('check-status').innerText();
      if (status.startsWith('Quiet. Take')) {
        // The press before may just have been answered: then the button goes away under this one.
        await page
          .getByRole('button', { name: 'Take the reading' })
          .click({ timeout: 1000 })
          .catch(() => undefined);
      }
      await page.waitForTimeout(500);
      return false;
    },
    (taken) => taken,
  );
}

describe('the quick check', () => {
  it('should hold with the load that it is, and say so with the date', async () => {
    await page.getByRole('button', { name: 'Zero right' }).waitFor();
    await page.keyboard.press('k');
    const title = page.locator('.cell .review-title');
    await title.waitFor();
    if (!(await title.innerText()).includes('right')) await page.keyboard.press('k');
    await until(
      () => page.getByTestId('check').innerText(),
      (text) => text.includes('Check this cell'),
    );
    expect(await check(LOAD_N)).toMatch(/^20\d\d-\d\d-\d\d: 200\.0\u00a0N shows .* off, within its limit of /);
    expect(await page.getByTestId('check').innerText()).not.toContain('No quick check today');
    expect(await violations(page)).toEqual([]);
  });

  it('should warn when the cell left its limits, above the live trace as well', async () => {
    expect(await check(LOAD_N * 1.05)).toContain('beyond its limit of');
    await until(
      () => page.locator('.statements').innerText(),
      (text) => /Right: At the check of .* Look at the mounting and the mass/.test(text),
    );
    expect(await violations(page)).toEqual([]);
    expect(await check(LOAD_N)).toContain('within its limit of');
    expect(await page.locator('.statements').innerText()).not.toContain('At the check of');
  });

  it('should have caused no error', () => {
    // The browser itself logs a refused reading.
    expect(seen.faults.filter((one) => !one.includes('409 (Conflict)'))).toEqual([]);
  });
});
