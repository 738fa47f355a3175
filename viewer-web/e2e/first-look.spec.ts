import type { Browser } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { newestEffort, STATION, until, violations, visit, withBrowser } from './support';

let browser: Browser;

withBrowser((opened) => {
  browser = opened;
});

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
    await page.keyboard.press('c');
    await dialog.waitFor();
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
      await page.keyboard.press(key);
      await page.getByRole('dialog').waitFor();
      expect(await page.getByRole('dialog').innerText()).toContain(role);
      expect(await violations(page)).toEqual([]);
      await page.keyboard.press('Escape');
    }
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it('should lose no key that is pressed while a dialog closes, and give the focus back', async () => {
    const { page } = await visit(browser);
    const dialog = page.getByRole('dialog');
    await page.getByRole('button', { name: 'Keys' }).focus();
    for (let round = 0; round < 5; round++) {
      await page.keyboard.press('c');
      expect(await dialog.innerText()).toContain('Before anyone');
      await page.keyboard.press('Escape');
      await page.keyboard.press('m');
      expect(await page.getByLabel('What happened').count()).toBe(1);
      await page.keyboard.press('Escape');
    }
    expect(await dialog.count()).toBe(0);
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Keys');
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
    for (let i = 0; i < 80; i++) {
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
