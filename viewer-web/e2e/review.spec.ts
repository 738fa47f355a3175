import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { newestEffort, until, type Visit, violations, visit, withVisit } from './support';

let browser: Browser;
let seen: Visit;
let page: Page;

withVisit((opened, inBrowser) => {
  seen = opened;
  page = opened.page;
  browser = inBrowser;
});

beforeAll(async () => {
  await until(
    () => newestEffort(page),
    (text) => /Left against right/.test(text),
  );
});

const place = (): Promise<string> => page.locator('.review-place').innerText();
const title = (): Promise<string> => page.locator('.review-title').innerText();
const handle = (name: string) => page.getByTestId(`boundary-${name}`);
const afterOnset = async (name: string): Promise<number> => Number(await handle(name).getAttribute('aria-valuenow'));
const fact = (name: string): Promise<string> =>
  page.locator('.boundaries .fact', { hasText: name }).locator('dd').innerText();
const heads = (): Promise<string[]> => page.locator('.review-figures thead th').allInnerTexts();

async function opened(): Promise<void> {
  await handle('onset').waitFor();
}

describe('one contraction', () => {
  it('should open on Enter with its trace, its boundaries, and every figure with its uncertainty', async () => {
    await page.keyboard.press('Enter');
    await opened();
    expect(await title()).toMatch(/^(Left|Right), /);
    expect(await page.getByRole('slider').count()).toBe(3);
    const cells = await page.locator('.review-figures tbody td').allInnerTexts();
    expect(cells.length).toBeGreaterThan(3);
    for (const cell of cells) expect(cell).toMatch(/^[\u2212+]?\d[\d.]*\([\d.]+\)/);
    expect(await page.locator('.review-figures tbody').innerText()).toContain('Peak force');
    for (const name of ['Onset', 'Start of release', 'Offset']) {
      expect(await fact(name)).toMatch(/^[\d.]+\([\d.]+\)\u00a0s, as found$/);
    }
    expect(await heads()).toEqual(['Figure', 'Value']);
  });

  it('should tell the asymmetry of its effort with the formula', async () => {
    const side = await page.locator('.review-side').innerText();
    expect(side).toMatch(/Left against right: /);
    expect(side).toMatch(/logarithm|ln/);
  });

  it('should go to the previous and the next contraction, and to the other limb, by keys', async () => {
    const first = await place();
    const limb = (await title()).split(',')[0];
    await page.keyboard.press('o');
    await until(title, (text) => !text.startsWith(`${limb},`));
    await page.keyboard.press('o');
    await until(title, (text) => text.startsWith(`${limb},`));
    await page.keyboard.press('PageUp');
    await until(place, (text) => text !== first);
    await opened();
  });

  it('should move the onset by keys, keep what was found beside it, and take it back', async () => {
    const before = await afterOnset('onset').catch(() => Number.NaN);
    expect(Number.isFinite(before)).toBe(true);
    await page.keyboard.press('1');
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('ArrowRight');
    await until(
      () => fact('Onset'),
      (text) => /by hand, 1\d\.\d\u00a0ms later than found at/.test(text),
    );
    expect((await afterOnset('onset')) - before).toBeCloseTo(0.011, 2);
    expect(await heads()).toEqual(['Figure', 'As found', 'By hand']);
    const duration = page.locator('.review-figures tr', { hasText: 'Duration' }).locator('td');
    const [found, byHand] = await duration.allInnerTexts();
    expect(Number.parseFloat(byHand ?? '')).toBeLessThan(Number.parseFloat(found ?? ''));

    await page.keyboard.press('u');
    await until(heads, (texts) => texts.length === 2);
    expect(await afterOnset('onset')).toBeCloseTo(before, 6);
    await page.keyboard.press('y');
    await until(heads, (texts) => texts.length === 3);
    await page.keyboard.press('b');
    await until(heads, (texts) => texts.length === 2);
    expect(await fact('Onset')).toMatch(/as found$/);
  });

  it('should move the offset by mouse', async () => {
    await page.keyboard.press('3');
    const box = await handle('offset').boundingBox();
    if (box === null) expect.fail('no offset on the page');
    const x = box.x + box.width / 2;
    const y = box.y + box.height - 60;
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 30, y, { steps: 4 });
    await page.mouse.up();
    await until(
      () => fact('Offset'),
      (text) => /by hand, [\d.]+\u00a0ms later than found/.test(text),
    );
    await page.keyboard.press('Control+z');
    await until(
      () => fact('Offset'),
      (text) => /as found$/.test(text),
    );
  });

  it('should keep the boundaries in order, however far one is pushed', async () => {
    await page.keyboard.press('1');
    for (let i = 0; i < 120; i++) await page.keyboard.press('Control+ArrowRight');
    await until(
      () => page.locator('.review-state').innerText(),
      (text) => text === '',
    );
    await page.keyboard.press('w');
    await opened();
    expect(await afterOnset('onset')).toBeLessThan(await afterOnset('release'));
    await page.keyboard.press('b');
    await until(heads, (texts) => texts.length === 2);
  });

  it('should go back to the live trace on Escape and open again by a click on the list', async () => {
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Hold the view' }).waitFor();
    const look = page.getByRole('button', { name: 'Look at right' }).first();
    await look.click();
    await opened();
    expect(await title()).toMatch(/^Right, /);
    await page.keyboard.press('Escape');
    await page.locator('canvas').waitFor();
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Look at right');
  });

  it('should open by a click on the trace', async () => {
    await page.getByRole('button', { name: '60\u00a0s' }).click();
    await page.keyboard.press('Space');
    const box = await page.locator('.u-over').boundingBox();
    if (box === null) expect.fail('no plot');
    // Somewhere in the last minute there is a contraction.
    for (let share = 0.95; share > 0 && (await page.locator('.review').count()) === 0; share -= 0.02) {
      await page.mouse.click(box.x + share * box.width, box.y + box.height / 2);
    }
    await opened();
    await page.keyboard.press('Escape');
    await page.keyboard.press('Space');
  });

  it.each(['light', 'dark'] as const)('should have no serious accessibility violation in %s', async (colorScheme) => {
    const visited = await visit(browser, { colorScheme });
    await until(
      () => newestEffort(visited.page),
      (text) => text !== '',
    );
    await visited.page.keyboard.press('Enter');
    await visited.page.getByTestId('boundary-onset').waitFor();
    expect(await violations(visited.page)).toEqual([]);
    expect(visited.faults).toEqual([]);
    await visited.page.context().close();
  });

  it.each([
    [390, 844],
    [820, 1180],
    [1280, 800],
  ])('should fit a screen of %i by %i, and lay no boundary name over another', async (width, height) => {
    const visited = await visit(browser, { viewport: { width, height } });
    await until(
      () => newestEffort(visited.page),
      (text) => text !== '',
    );
    await visited.page.keyboard.press('Enter');
    await visited.page.getByTestId('boundary-onset').waitFor();
    expect(await visited.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    const boxes = await visited.page.locator('.boundary-name').evaluateAll((names) =>
      names.map((name) => {
        const { left, right, top, bottom } = name.getBoundingClientRect();
        return { left, right, top, bottom };
      }),
    );
    expect(boxes.length).toBe(3);
    for (const [i, one] of boxes.entries()) {
      expect(one.left).toBeGreaterThanOrEqual(0);
      expect(one.right).toBeLessThanOrEqual(width);
      for (const other of boxes.slice(i + 1)) {
        const apart =
          one.right <= other.left || other.right <= one.left || one.bottom <= other.top || other.bottom <= one.top;
        expect(apart, JSON.stringify([one, other])).toBe(true);
      }
    }
    await visited.page.context().close();
  });

  it('should have caused no error', () => {
    expect(seen.faults).toEqual([]);
  });
});
