import type { Browser } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { STATION, until, withBrowser } from './support';

let browser: Browser;

withBrowser((opened) => {
  browser = opened;
});

describe('reconnecting', () => {
  it('should say that the station does not answer, show no old force as new, and come back by itself', async () => {
    const page = await browser.newPage();
    // The page's sockets can be cut and kept from coming back: to another path the station answers "not found".
    await page.addInitScript(() => {
      const world = window as unknown as { sockets: WebSocket[]; cut: boolean };
      world.sockets = [];
      world.cut = false;
      const Original = window.WebSocket;
      window.WebSocket = class extends Original {
        constructor(address: string | URL) {
          super(world.cut ? String(address).replace('/ws/live', '/ws/none') : address);
          world.sockets.push(this);
        }
      };
    });
    await page.goto(STATION);
    await page.getByRole('button', { name: 'Read and understood' }).click();
    const figures = (): Promise<string[]> => page.locator('.figure-value').allInnerTexts();
    const answered = (texts: string[]): boolean => texts.length > 0 && texts.every((text) => /\d/.test(text));
    await until(figures, answered);

    await page.evaluate(() => {
      const world = window as unknown as { sockets: WebSocket[]; cut: boolean };
      world.cut = true;
      for (const socket of world.sockets) socket.close();
    });
    const statement = page.locator('.statement', { hasText: 'The station does not answer' });
    await statement.waitFor();
    expect(await figures()).toEqual(['\u2013', '\u2013']);
    expect(await page.getByRole('button', { name: 'Zero both' }).isDisabled()).toBe(true);

    await page.evaluate(() => {
      (window as unknown as { cut: boolean }).cut = false;
    });
    await until(figures, answered);
    expect(await statement.count()).toBe(0);
    expect(await page.getByRole('dialog').count()).toBe(0);
  });
});
