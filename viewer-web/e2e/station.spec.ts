import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { atRest, newestEffort, until, type Visit, withVisit } from './support';

let seen: Visit;
let page: Page;

withVisit((opened) => {
  seen = opened;
  page = opened.page;
});

beforeAll(async () => {
  await until(
    () => page.locator('.figure-value').count(),
    (count) => count > 0,
  );
});

const zeroTexts = (): Promise<string[]> => page.locator('.zero-line [role="status"]').allInnerTexts();
const recordingText = (): Promise<string> => page.getByTestId('recording').innerText();

describe('the station', () => {
  it('should take the zero of both limbs on Z while they rest', async () => {
    for (let attempt = 0; attempt < 5; attempt++) {
      await atRest(page);
      await page.keyboard.press('z');
      await until(zeroTexts, (texts) => texts.some((text) => text.startsWith('Taking zero')));
      const texts = await until(zeroTexts, (now) => now.every((text) => !text.startsWith('Taking zero')));
      // A refusal is right where the limb began to pull within the second that a zero takes: wait and try again.
      if (texts.every((text) => text.startsWith('Zero taken'))) return;
    }
    expect.fail(`no zero taken: ${(await zeroTexts()).join(' | ')}`);
  });

  it('should set a mark from the keyboard and take its words only there', async () => {
    await page.keyboard.press('m');
    await page.getByLabel('What happened').fill('left cuff moved, zero again');
    await page.keyboard.press('Enter');
    await until(
      () => page.getByRole('dialog').count(),
      (count) => count === 0,
    );
    expect(await page.locator('.statement.weight-2').count()).toBe(0);
  });

  it('should say what the trials are, each limb by itself, and take it back', async () => {
    await page.keyboard.press('i');
    await page.getByLabel('The person is told to push').selectOption({ label: 'fast and hard' });
    await page.getByLabel('Body mass / kg').fill('71.5');
    await page.getByLabel('Own maximum, right / N').fill('396');
    await page.keyboard.press('Enter');
    const said = page.getByTestId('trials');
    await until(
      () => said.innerText(),
      (text) => text === 'Trials: pushed fast and hard; body mass 71.5\u00a0kg; right: own maximum 396\u00a0N.',
    );
    await page.keyboard.press('i');
    expect(await page.getByLabel('Body mass / kg').inputValue()).toBe('71.5');
    await page.getByLabel('Body mass / kg').fill('2');
    await page.keyboard.press('Enter');
    expect(await page.getByRole('dialog').count(), 'a mass that cannot be is not taken').toBe(1);
    await page.getByRole('button', { name: 'Say nothing' }).click();
    await until(
      () => said.count(),
      (count) => count === 0,
    );
  });

  it('should set a target and take it away again', async () => {
    await page.keyboard.press('t');
    await page.getByLabel('Target force / N').fill('300');
    await page.getByLabel('Tolerance / %').fill('10');
    await page.keyboard.press('Enter');
    expect(await page.getByTestId('target').innerText()).toBe('Target 300\u00a0N, band 270 to 330\u00a0N');
    await page.keyboard.press('t');
    await page.getByRole('button', { name: 'No target' }).click();
    await until(
      () => page.getByTestId('target').count(),
      (count) => count === 0,
    );
  });

  it('should stop and start the recording, and keep the next effort', async () => {
    if ((await recordingText()) === 'Not recording') {
      await page.keyboard.press('r');
      await until(recordingText, (text) => text.startsWith('Recording to'));
    }
    const first = await recordingText();
    await page.keyboard.press('r');
    await until(recordingText, (text) => text === 'Not recording');
    await page.getByRole('button', { name: 'Record', exact: true }).click();
    const second = await until(recordingText, (text) => text.startsWith('Recording to'));
    expect(second).toContain('.pcapng');
    expect(first).toContain('.pcapng');
    const before = await newestEffort(page);
    await until(
      () => newestEffort(page),
      (now) => now !== before && /Left against right/.test(now),
    );
  });

  it('should have caused no error', () => {
    expect(seen.faults).toEqual([]);
  });
});
