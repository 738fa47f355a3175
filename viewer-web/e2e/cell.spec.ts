import type { Browser, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { until, type Visit, violations, visit, withVisit } from './support';

let browser: Browser;
let seen: Visit;
let page: Page;

withVisit((opened, inBrowser) => {
  seen = opened;
  page = opened.page;
  browser = inBrowser;
});

const fact = (name: string): Promise<string> =>
  page.locator('.cell .fact', { hasText: name }).first().locator('dd').innerText();

describe('one cell', () => {
  it('should open by its key and tell noise, range and arrivals as they are', async () => {
    await page.keyboard.press('k');
    await until(
      () => page.locator('.cell .review-title').innerText(),
      (text) => /^Cell: (left|right)$/.test(text),
    );
    await until(
      () => page.locator('.cell .chart').count(),
      (count) => count === 4,
      20_000,
    );
    expect(await fact('one count')).toMatch(/^0\.\d+\u00a0N$/);
    expect(await fact('samples')).toMatch(/^\d/);
    const before = await fact('samples');
    await until(
      () => fact('samples'),
      (text) => text !== before,
    );
    expect(await page.locator('.cell').innerText()).toMatch(/median \d+(\.\d+)?\u00a0ms/);
  });

  it('should go to the next cell by the same key, and back to the live trace on Escape', async () => {
    const first = await page.locator('.cell .review-title').innerText();
    await page.keyboard.press('k');
    await until(
      () => page.locator('.cell .review-title').innerText(),
      (text) => text !== first,
    );
    await page.keyboard.press('Escape');
    await page.locator('.cell').waitFor({ state: 'detached' });
    expect(await page.locator('#trace').count()).toBe(1);
  });

  it('should open from the links, and give the focus back', async () => {
    await page.keyboard.press('l');
    const open = page.getByRole('button', { name: 'Look at the left cell' });
    await open.focus();
    await page.keyboard.press('Enter');
    await page.locator('.cell').waitFor();
    await page.keyboard.press('Escape');
    await until(
      () => open.evaluate((element) => element === document.activeElement),
      (focused) => focused,
    );
  });

  it('should wait for a knock on both cells and say what came of it', async () => {
    await page.keyboard.press('a');
    const dialog = page.locator('dialog');
    await dialog.getByRole('button', { name: 'Wait for a knock' }).click();
    await until(
      () => page.locator('dialog .sides-step').innerText(),
      (text) => text.startsWith('Now strike once'),
    );
    expect(await violations(page)).toEqual([]);
    await until(
      () => page.locator('dialog .sides-step').innerText(),
      // Nobody strikes the invented cells; their person pulls, which is no knock.
      (text) => text.startsWith('Not measured.'),
      30_000,
    );
    await page.keyboard.press('Escape');
    await dialog.waitFor({ state: 'detached' });
  });

  it('should judge which cell is which by what is pushed', async () => {
    await page.keyboard.press('s');
    const step = page.locator('dialog .sides-step');
    await until(
      () => step.innerText(),
      (text) => /^(Now press the left cell|One push|The cells are swapped|Seen)/.test(text),
    );
    await until(
      () => step.innerText(),
      // The invented person pushes both: how that is judged hangs on which limb is let go first.
      (text) => /^(One push moves both cells|The cells are swapped|Seen)/.test(text),
      30_000,
    );
    expect(await violations(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await page.locator('dialog').waitFor({ state: 'detached' });
  });

  it('should ask for the mass and wait for a steady load', async () => {
    await page.keyboard.press('e');
    await until(
      () => page.locator('dialog .sides-step').innerText(),
      (text) => /^Put the mass on the left cell/.test(text),
    );
    expect(await violations(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await page.locator('dialog').waitFor({ state: 'detached' });
  });

  it.each([
    [390, 844, 'light'],
    [820, 1180, 'dark'],
    [1280, 800, 'light'],
  ] as const)('should fit a screen of %i by %i without a violation in %s', async (width, height, colorScheme) => {
    const visited = await visit(browser, { viewport: { width, height }, colorScheme });
    await visited.page.keyboard.press('k');
    await visited.page.locator('.cell .chart').first().waitFor();
    const { wide, seenWide } = await visited.page.evaluate(() => ({
      wide: document.documentElement.scrollWidth,
      seenWide: document.documentElement.clientWidth,
    }));
    expect(wide).toBeLessThanOrEqual(seenWide);
    expect(await violations(visited.page)).toEqual([]);
    expect(visited.faults).toEqual([]);
    await visited.page.context().close();
  });

  it('should have caused no error', () => {
    expect(seen.faults).toEqual([]);
  });
});
