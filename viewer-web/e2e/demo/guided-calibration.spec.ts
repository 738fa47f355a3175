/** The guided calibration from the plan to a version in use, on a simulated cell that carries the masses asked for. */

import { appendFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, describe, expect, it } from 'vitest';
import { STATION, until, type Visit, violations, withVisit } from '../support';

const LATITUDE_DEG = 52;
/** The demo's left cell (simulators/scenarios/demo.yaml). */
const TRUE_COUNTS_PER_N = 1500;

let seen: Visit;
let page: Page;

withVisit((opened) => {
  seen = opened;
  page = opened.page;
});

afterAll(() => {
  appendFileSync(control(), 'free left\n');
});

function control(): string {
  const file = process.env.HELDMARK_DEMO_CONTROL;
  if (!file) throw new Error('HELDMARK_DEMO_CONTROL is not set: it must be the control file of the demo');
  return file;
}

/** Normal gravity (Somigliana, WGS 84) at sea level, and the air's share of the weight by OIML R 111. */
function newtons(kg: number): number {
  const s2 = Math.sin((LATITUDE_DEG * Math.PI) / 180) ** 2;
  const g = (9.7803253359 * (1 + 0.00193185265241 * s2)) / Math.sqrt(1 - 0.00669437999013 * s2);
  return kg * g * (1 - 1.2 / 8000);
}

function hang(kg: number): void {
  appendFileSync(control(), `hang left ${newtons(kg)}\n`);
}

const instruction = (): Promise<string> => page.getByTestId('guide-instruction').innerText();

/** The load that the page asks for. */
async function asked(): Promise<number> {
  const text = await instruction();
  return text === 'Take everything off.' ? 0 : Number(/([\d.]+)\u00a0kg/.exec(text)?.[1]);
}

async function progress(): Promise<string> {
  return (await page.locator('.guide progress').getAttribute('aria-label')) ?? '';
}

/** Hangs a load, waits until it can be read and takes it by the key. */
async function takeWith(kg: number): Promise<void> {
  const before = await progress();
  hang(kg);
  await page.waitForTimeout(2500); // The reading before was still, too: 0.8 s of settling, a mean of 1 s, and patience.
  // Noise may look like movement in the moment of the key: then the station refuses, and a person presses it again.
  await until(
    async () => {
      if ((await page.getByTestId('guide-result').count()) > 0) return 'done';
      const now = await progress();
      if (now !== before) return now;
      const status = await page.getByTestId('guide-status').innerText();
      if (status.startsWith('Quiet. Take')) await page.keyboard.press('Enter');
      await page.waitForTimeout(500);
      return before;
    },
    (text) => text !== before,
  );
}

async function openLeftCell(): Promise<void> {
  await page.getByRole('button', { name: 'Zero left' }).waitFor(); // The channels are known from then on.
  await page.keyboard.press('k');
  const title = page.locator('.cell .review-title');
  await title.waitFor();
  if (!(await title.innerText()).includes('left')) await page.keyboard.press('k');
  await until(
    () => title.innerText(),
    (text) => text === 'Cell: left',
  );
}

describe('the guided calibration', () => {
  it('should refuse a load beyond the cell or none in one sentence', async () => {
    hang(0);
    await openLeftCell();
    await page.keyboard.press('g');
    const form = page.getByTestId('guide-plan');
    await form.waitFor();
    await form.locator('[name=by]').fill('A. Invented');
    await form.locator('[name=loads]').fill('five ten');
    await form.locator('[name=off]').fill('0.05');
    await form.getByRole('button', { name: 'Begin' }).click();
    await until(
      () => page.locator('.guide-failure').innerText(),
      (text) => text.startsWith('The loads are numbers'),
    );
    expect(await violations(page)).toEqual([]);
  });

  it('should go step by step, doubt a wrong mass, and take a step back by the key', async () => {
    const form = page.getByTestId('guide-plan');
    await form.locator('[name=loads]').fill('5 10 20');
    await form.locator('[name=latitude]').fill(String(LATITUDE_DEG));
    await form.locator('summary').click();
    await form.locator('[name=mountings]').fill('2');
    await form.locator('[name=stretch]').fill('1');
    await form.locator('[name=wait]').fill('0');
    await form.locator('[name=preload]').uncheck();
    await form.getByRole('button', { name: 'Begin' }).click();
    await until(instruction, (text) => text === 'Take everything off.');
    await takeWith(0);
    expect(await instruction()).toBe('Put 5.00\u00a0kg on.');
    await takeWith(5);
    expect(await instruction()).toBe('Load up to 10.00\u00a0kg, without going over.');
    await takeWith(20);
    expect(await page.getByTestId('guide-doubts').innerText()).toContain('This reads like 20 kg, not like 10 kg.');
    expect(await violations(page)).toEqual([]);
    await page.keyboard.press('Backspace');
    await until(instruction, (text) => text.startsWith('Load up to 10.00'));
    await takeWith(10);
    expect(await page.getByTestId('guide-doubts').count()).toBe(0);
  });

  it('should go on where it stood after the page was loaded again', async () => {
    const before = await progress();
    await page.reload();
    await page.locator('#trace').waitFor();
    await openLeftCell();
    await page.getByRole('button', { name: 'Go on with the calibration' }).click();
    await until(progress, (text) => text === before);
  });

  it('should find the cell that it is, save it and use it', async () => {
    while ((await page.getByTestId('guide-result').count()) === 0) {
      if ((await instruction()).startsWith('Take the cell out')) {
        await page.keyboard.press('Enter');
        await until(instruction, (text) => text === 'Take everything off.');
      }
      await takeWith(await asked());
    }
    const state = await (await fetch(`${STATION}api/v1/guided-calibration`)).json();
    const slope = state.result.coefficients[1];
    expect(Math.abs(slope.value - TRUE_COUNTS_PER_N)).toBeLessThan(3 * slope.standardUncertainty);
    expect(slope.standardUncertainty).toBeLessThan(0.001 * TRUE_COUNTS_PER_N);
    expect(await page.locator('.guide-table tbody tr').count()).toBe(4);
    expect(await page.locator('.chart-dot').count()).toBe(4);
    expect(await violations(page)).toEqual([]);
    const certificate = await fetch(`${STATION}api/v1/guided-calibration/certificate.html`);
    expect(await certificate.text()).toContain('A. Invented');
    const links = page.locator('.guide-download');
    const addresses = await links.evaluateAll((all) => all.map((one) => (one as HTMLAnchorElement).href));
    expect(addresses).toEqual(['pdf', 'html'].map((kind) => `${STATION}api/v1/guided-calibration/certificate.${kind}`));
    const paper = await (await fetch(String(addresses[0]))).text();
    expect(paper.slice(0, 5)).toBe('%PDF-');
    await page.getByRole('button', { name: 'Save and use it' }).click();
    await until(
      () => page.getByTestId('guide-saved').innerText(),
      (text) => /^Saved as invented-left\/0 v\d+\. The station uses it/.test(text),
    );
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    await until(
      () => page.getByTestId('calibrations').innerText(),
      (text) => /Version \d+, .* by A\. Invented, valid until .*\s+in use/.test(text),
    );
    const station = await (await fetch(`${STATION}api/v1/station`)).text();
    expect(station).toContain('"calibration":"station"');
  });

  it('should have caused no error', () => {
    // The browser itself logs a refused reading.
    expect(seen.faults.filter((one) => !one.includes('409 (Conflict)'))).toEqual([]);
  });
});
