import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { newestEffort, pause, until, withVisit } from './support';

let page: Page;

withVisit((opened) => {
  page = opened.page;
});

beforeAll(async () => {
  await until(
    () => newestEffort(page),
    (text) => text !== '',
  );
  await pause(4_000); // a trace longer than the shortest window, so that there is something to look back to
  await page.keyboard.press('-');
  await page.keyboard.press('+');
  await page.keyboard.press('+');
});

const picture = (): Promise<Buffer> => page.locator('canvas').screenshot();
const position = (): Promise<string> => page.locator('.position-text').innerText();

describe('looking back by keyboard', () => {
  it('should scroll while it follows and stand still while it is held', async () => {
    expect(await position()).toBe('now');
    const moving = await picture();
    await pause(400);
    expect((await picture()).equals(moving)).toBe(false);
    await page.keyboard.press('Space');
    await pause(200);
    await until(
      async () => {
        const one = await picture();
        await pause(300);
        return one.equals(await picture());
      },
      (same) => same,
    );
    expect(await page.getByRole('button', { name: 'Follow the stream' }).getAttribute('aria-pressed')).toBe('true');
  });

  it('should go back and forth with the arrows, and to the ends', async () => {
    await page.keyboard.press('Home');
    const oldest = await until(position, (text) => text.startsWith('\u2212'));
    await page.keyboard.press('ArrowRight');
    await until(position, (text) => text !== oldest);
    await page.keyboard.press('End');
    await until(position, (text) => text === 'now');
    await page.keyboard.press('ArrowLeft');
    await until(position, (text) => text.startsWith('\u2212'));
    await page.keyboard.press('Space');
    await until(position, (text) => text === 'now');
  });

  it('should change the length of the window with plus and minus, and with the buttons', async () => {
    const pressed = (): Promise<string | null> => page.locator('.choice button[aria-pressed="true"]').textContent();
    expect(await pressed()).toBe('5\u00a0s');
    await page.keyboard.press('-');
    await until(pressed, (text) => text === '10\u00a0s');
    await page.getByRole('button', { name: '60\u00a0s' }).click();
    await until(pressed, (text) => text === '60\u00a0s');
    await page.keyboard.press('+');
    await until(pressed, (text) => text === '20\u00a0s');
  });

  it('should look back when the trace is dragged', async () => {
    await page.getByRole('button', { name: '5\u00a0s', exact: true }).click();
    const box = await page.locator('.u-over').boundingBox();
    if (box === null) expect.fail('no plot');
    await page.mouse.move(box.x + 100, box.y + 50);
    await page.mouse.down();
    await page.mouse.move(box.x + 400, box.y + 50, { steps: 5 });
    await page.mouse.up();
    await until(position, (text) => text.startsWith('\u2212'));
    await page.keyboard.press('End');
  });
});
