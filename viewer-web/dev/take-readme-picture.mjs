// Takes the picture of the README from a running station: in the middle of a hold, with finished efforts before it.
//
//   node dev/take-readme-picture.mjs --url http://127.0.0.1:8470/ --out ../docs/images/viewer.png

import { parseArgs } from 'node:util';
import { launchBrowser } from './browser.mjs';

const { values } = parseArgs({
  options: { url: { type: 'string' }, out: { type: 'string' }, theme: { type: 'string' }, size: { type: 'string' } },
});
const [width, height] = (values.size ?? '1280x800').split('x').map(Number);
const browser = await launchBrowser();
const page = await browser.newPage({ viewport: { width, height }, colorScheme: values.theme ?? 'light' });
await page.goto(values.url ?? 'http://127.0.0.1:8470/');
await page.getByRole('button', { name: 'Read and understood' }).click();
await page.getByRole('button', { name: '20\u00a0s', exact: true }).click();
await page.waitForTimeout(20_000);
await page.waitForFunction(() => {
  const held = [...document.querySelectorAll('.held')].map((one) => Number.parseFloat(one.textContent));
  return held.length === 2 && held.every((seconds) => seconds >= 2.4);
});
await page.screenshot({ path: values.out ?? '../docs/images/viewer.png' });
await browser.close();
