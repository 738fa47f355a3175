import type { Browser, Page } from 'playwright-core';
import { afterAll, describe, expect, it } from 'vitest';
import { STATION, until, visit, withBrowser } from '../support';

let browser: Browser;

withBrowser((opened) => {
  browser = opened;
});

afterAll(async () => {
  await enter('normal');
});

async function enter(name: string, keep = false): Promise<void> {
  await fetch(`${STATION}dev/state`, { method: 'POST', body: JSON.stringify({ name, keep }) });
}

async function pageIn(state: string): Promise<Page> {
  await enter(state);
  return (await visit(browser)).page;
}

const statements = (page: Page): Promise<string> => page.locator('.statements').innerText();

describe('states of the station (against its double)', () => {
  it('should say what is lost and since when, and show no force for it', async () => {
    const page = await pageIn('normal');
    await until(
      () => page.locator('.figure-value').allInnerTexts(),
      (texts) => texts.every((text) => /\d/.test(text)),
    );
    await enter('lost', true);
    await until(
      () => statements(page),
      (text) => /Left, serial:\S+: no samples since \d\d:\d\d:\d\d\. The port is gone\./.test(text),
    );
    const texts = await until(
      () => page.locator('.figure-value').allInnerTexts(),
      (now) => now[0] === '\u2013',
    );
    expect(texts[1]).toMatch(/\d/);
    await page.context().close();
  });

  it('should say what a fault is and what to do', async () => {
    const page = await pageIn('fault');
    await until(
      () => statements(page),
      (text) => /add yourself to the group dialout/.test(text),
    );
    await page.context().close();
  });

  it('should say that nothing is recorded when the recording failed', async () => {
    const page = await pageIn('recording-failed');
    await until(
      () => statements(page),
      (text) => /Not recording: No space left on the disk\./.test(text),
    );
    expect(await page.getByTestId('recording').innerText()).toBe('Recording failed');
    await page.context().close();
  });

  it('should show counts as counts, with no newton anywhere', async () => {
    const page = await pageIn('uncalibrated');
    await until(
      () => page.locator('.figure-unit').allInnerTexts(),
      (texts) => texts.includes('counts'),
    );
    expect(await page.locator('.figures').innerText()).not.toMatch(/\d\s*N\b/);
    expect(await page.locator('.axis-title').innerText()).toBe('Counts');
    await page.context().close();
  });

  it('should tell how to begin where no cell is set up', async () => {
    const page = await pageIn('empty');
    await until(
      () => page.locator('.empty-words').innerText(),
      (text) => /heldmark serve --link/.test(text),
    );
    await page.context().close();
  });

  it('should say that it gets fewer points', async () => {
    const page = await pageIn('reduced');
    await until(
      () => statements(page),
      (text) => /Fewer points/.test(text),
    );
    await page.context().close();
  });

  it('should steer a replay', async () => {
    const page = await pageIn('replay');
    const button = page.getByTestId('replay').getByRole('button').first();
    await until(
      () => button.innerText(),
      (text) => text === 'Pause replay',
    );
    await page.keyboard.press('p');
    await until(
      () => button.innerText(),
      (text) => text === 'Resume replay',
    );
    await page.keyboard.press('.');
    await until(
      () => page.locator('.speed select').inputValue(),
      (value) => value === '2',
    );
    await page.context().close();
  });

  it('should ask for the token, post it once and take it out of the address', async () => {
    await enter('refused');
    const page = await browser.newPage();
    await page.goto(`${STATION}#token=abc-123`);
    await until(
      () => statements(page),
      (text) => /wants a token/.test(text),
    );
    expect(page.url()).toBe(STATION);
    const { tokens } = (await (await fetch(`${STATION}dev/tokens`)).json()) as { tokens: string[] };
    expect(tokens).toEqual(['abc-123']);
    await page.close();
  });
});
