/** What the end-to-end tests share: one browser, pages that watch for faults of their own, and patience. */

import axe from 'axe-core';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, expect } from 'vitest';
import { launchBrowser } from '../dev/browser.mjs';

/** The station under test, for example http://127.0.0.1:8470/. */
export const STATION = stationAddress();

function stationAddress(): string {
  const address = process.env.HELDMARK_URL;
  if (!address) throw new Error('HELDMARK_URL is not set: it must be the address of a running station');
  return address.endsWith('/') ? address : `${address}/`;
}

export interface Visit {
  readonly page: Page;
  /** Errors of the console, of scripts and of the content security policy, as they come. */
  readonly faults: string[];
}

/** Gives the tests of a file a browser, which is closed after the last of them. */
export function withBrowser(use: (browser: Browser) => void): void {
  let browser: Browser | undefined;
  beforeAll(async () => {
    browser = await launchBrowser();
    use(browser);
  });
  afterAll(async () => {
    await browser?.close();
  });
}

/** Gives the tests of a file one page of the viewer, opened before the first of them, in a browser of its own. */
export function withVisit(use: (seen: Visit, browser: Browser) => void): void {
  let browser: Browser;
  withBrowser((opened) => {
    browser = opened;
  });
  beforeAll(async () => {
    use(await visit(browser), browser);
  });
}

/** Opens the viewer and acknowledges the cautions, unless they are what the test is about. */
export async function visit(
  browser: Browser,
  options: BrowserContextOptions & { keepCautions?: boolean; hash?: string } = {},
): Promise<Visit> {
  const { keepCautions, hash, ...contextOptions } = options;
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...contextOptions });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => faults.push(`script: ${error.message}`));
  await page.exposeFunction('reportViolation', (text: string) => faults.push(`policy: ${text}`));
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) => {
      const report = (window as unknown as { reportViolation: (text: string) => void }).reportViolation;
      report(`${event.violatedDirective} ${event.blockedURI}`);
    });
  });
  await page.goto(STATION + (hash ?? ''));
  if (!keepCautions) await page.getByRole('button', { name: 'Read and understood' }).click();
  return { page, faults };
}

/** What axe finds wrong with the page, serious or critical. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const results = await page.evaluate(() => (window as unknown as { axe: typeof axe }).axe.run());
  return results.violations
    .filter((one) => one.impact === 'serious' || one.impact === 'critical')
    .map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(' ')}`);
}

/** Asks again and again until the answer is there; fails with the last answer. */
export async function until<T>(ask: () => Promise<T>, holds: (answer: T) => boolean, withinMs = 45_000): Promise<T> {
  const end = Date.now() + withinMs;
  let answer = await ask();
  while (!holds(answer)) {
    if (Date.now() > end) expect.fail(`still not so after ${withinMs} ms: ${JSON.stringify(answer)}`);
    await pause(100);
    answer = await ask();
  }
  return answer;
}

export function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}

/** The sentences of the newest effort; empty while there is none. */
export async function newestEffort(page: Page): Promise<string> {
  const first = page.getByTestId('efforts').locator('li').first();
  return (await first.count()) === 0 ? '' : await first.innerText();
}

/** Waits until no limb is pulling, so that a zero can be taken. */
export async function atRest(page: Page): Promise<void> {
  await until(
    () => page.getByTestId('held').count(),
    (holds) => holds === 0,
  );
}
