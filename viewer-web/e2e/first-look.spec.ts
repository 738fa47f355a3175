import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launch, newestEffort, STATION, until, visit } from './support';

let browser: Browser;

beforeAll(async () => {
  browser = await launch();
});

afterAll(async () => {
  await browser.close();
});

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const results = await page.evaluate(() => (window as unknown as { axe: typeof axe }).axe.run());
  return results.violations
    .filter((one) => one.impact === 'serious' || one.impact === 'critical')
    .map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(' ')}`);
}

/** Presses a key until its dialog is open: while another one is still closing, keys are left alone. */
async function openBy(page: Page, key: string): Promise<void> {
  await until(
    async () => {
      if ((await page.getByRole('dialog').count()) === 0) {
        await page.keyboard.press(key);
      }
      return page.getByRole('dialog').count();
    },
    (count) => count > 0,
  );
}

describe('first look', () => {
  it('should show the cautions once per session', async () => {
    const { page } = await visit(browser, { keepCautions: true });
    const dialog = page.getByRole('dialog');
    await dialog.waitFor();
    expect(await dialog.innerText()).toContain('not a medical device');
    await page.getByRole('button', { name: 'Read and understood' }).click();
    await page.reload();
    await until(
      () => page.locator('.figure-value').count(),
      (count) => count > 0,
    );
    expect(await dialog.count()).toBe(0);
    await openBy(page, 'c');
    await page.context().close();
  });

  it.each(['light', 'dark'] as const)('should have no serious accessibility violation in %s', async (colorScheme) => {
    const { page, faults } = await visit(browser, { colorScheme });
    await until(
      () => newestEffort(page),
      (text) => text !== '',
    );
    await page.keyboard.press('d');
    await page.keyboard.press('l');
    expect(await violations(page)).toEqual([]);
    for (const [key, role] of [
      ['?', 'Keys'],
      ['c', 'Before anyone'],
      ['m', 'Mark'],
      ['t', 'Target'],
    ] as const) {
      await openBy(page, key);
      expect(await page.getByRole('dialog').innerText()).toContain(role);
      expect(await violations(page)).toEqual([]);
      await page.keyboard.press('Escape');
      await until(
        () => page.getByRole('dialog').count(),
        (count) => count === 0,
      );
    }
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it('should mark invented data where the station says so, and only there', async () => {
    const station = (await (await fetch(`${STATION}api/v1/station`)).json()) as { invented?: boolean };
    const { page } = await visit(browser);
    await until(
      () => page.locator('.figure-value').count(),
      (count) => count > 0,
    );
    expect(await page.getByTestId('invented').count()).toBe(station.invented === true ? 1 : 0);
    await page.context().close();
  });

  it('should lead through the page by Tab in the order of reading', async () => {
    const { page } = await visit(browser);
    await until(
      () => page.locator('.figure-value').count(),
      (count) => count > 0,
    );
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    const names: string[] = [];
    for (let i = 0; i < 40; i++) {
      await page.keyboard.press('Tab');
      names.push(await page.evaluate(() => document.activeElement?.textContent?.trim() ?? ''));
    }
    const order = [
      'Skip to the trace',
      'Cautions',
      'Keys',
      '5\u00a0s',
      'Hold the view',
      'Zero both',
      'Links and timing',
    ];
    const places = order.map((name) => names.indexOf(name));
    expect(
      places.every((place) => place >= 0),
      names.join(' | '),
    ).toBe(true);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    await page.context().close();
  });

  it.each([
    [390, 844],
    [820, 1180],
    [1280, 800],
  ])('should fit a screen of %i by %i without scrolling sideways', async (width, height) => {
    const { page } = await visit(browser, { viewport: { width, height } });
    await until(
      () => newestEffort(page),
      (text) => text !== '',
    );
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    await page.context().close();
  });
});
