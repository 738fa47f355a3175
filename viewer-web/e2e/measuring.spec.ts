import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { newestEffort, pause, until, type Visit, withVisit } from './support';

let seen: Visit;
let page: Page;

withVisit((opened) => {
  seen = opened;
  page = opened.page;
});

describe('measuring', () => {
  it('should show what each effort was worth, each number with its uncertainty', async () => {
    const before = await newestEffort(page);
    const text = await until(
      () => newestEffort(page),
      (now) => now !== before && /Left against right/.test(now),
    );
    expect(text).toMatch(/Left \d+(\.\d+)?\(\d+(\.\d+)?\)\u00a0N/);
    expect(text).toMatch(/Right \d+(\.\d+)?\(\d+(\.\d+)?\)\u00a0N/);
    expect(text).toMatch(/Left against right: [+\u2212]?\d+(\.\d+)?\(\d+(\.\d+)?\)/);
    expect(text).toContain('repeat error not known here');
  });

  it('should show all figures or the reason why not', async () => {
    await page.keyboard.press('d');
    const table = page.getByRole('table');
    await table.waitFor();
    const cells = await table.locator('td').allInnerTexts();
    expect(cells.length).toBeGreaterThan(4);
    for (const cell of cells)
      expect(cell).toMatch(/^(not computed: .+|uncertainty not known|\u2013|[\u2212+]?\d[\d.]*\([\d.]+\).*)$/);
    await page.keyboard.press('d');
    expect(await table.count()).toBe(0);
  });

  it('should keep the figures where they are while their values change', async () => {
    const read = () =>
      page.locator('.figure').evaluateAll((figures) =>
        figures.map((figure) => {
          const value = figure.querySelector('.figure-value')?.getBoundingClientRect();
          const unit = figure.querySelector('.figure-unit')?.getBoundingClientRect();
          return { text: figure.textContent, right: value?.right ?? 0, unit: unit?.left ?? 0, top: value?.top ?? 0 };
        }),
      );
    const first = await read();
    const texts = new Set<string>();
    let held = false;
    // From rest through a hold: from one to three digits before the point.
    for (let i = 0; i < 300 && !(held && texts.size > 50); i++) {
      const now = await read();
      now.forEach((figure, limb) => {
        texts.add(`${limb} ${figure.text}`);
        expect([figure.right, figure.unit, figure.top]).toEqual([
          first[limb]?.right,
          first[limb]?.unit,
          first[limb]?.top,
        ]);
      });
      held = held || (await page.getByTestId('held').count()) > 0;
      await pause(100);
    }
    expect(held).toBe(true);
    expect(texts.size).toBeGreaterThan(20);
  });

  it('should tell the station what has been painted', async () => {
    await page.keyboard.press('l');
    const painted = page.locator('.fact', { hasText: 'to painted' }).locator('dd');
    expect(
      await until(
        () => painted.innerText(),
        (text) => /ms/.test(text),
      ),
    ).toMatch(/^\d+(\.\d+)?\u00a0ms, \d+(\.\d+)?\u00a0ms$/);
    await page.keyboard.press('l');
  });

  it('should have caused no error', () => {
    expect(seen.faults).toEqual([]);
  });
});
