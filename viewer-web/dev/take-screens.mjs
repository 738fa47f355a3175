// Photographs the viewer in every state, size and theme, against the station double: for looking at, not for comparing.
//
//   node dev/take-screens.mjs [--out test-results/screens] [--only lost,fault] [--sizes desktop,phone] [--themes light]

import { mkdirSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { launchBrowser } from './browser.mjs';
import { FakeStation } from './fake-station.mjs';

const SIZES = { desktop: [1280, 800], tablet: [820, 1180], phone: [390, 844] };
const wait = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

async function openReview(page) {
  await page.keyboard.press('Enter');
  await page.locator('.boundary').first().waitFor();
  await wait(200);
}

/** What to do once the page is up, per picture; the state of the double is the name or `state`. */
const PICTURES = {
  normal: {},
  cautions: { state: 'normal', keepCautions: true },
  help: { state: 'normal', act: (page) => page.keyboard.press('?') },
  mark: { state: 'normal', act: (page) => page.keyboard.press('m') },
  'target-form': { state: 'normal', act: (page) => page.keyboard.press('t') },
  figures: { state: 'normal', act: (page) => page.keyboard.press('d') },
  review: { state: 'normal', act: openReview },
  'review-onset': {
    state: 'normal',
    act: async (page) => {
      await openReview(page);
      await page.keyboard.press('1');
      for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowLeft');
      await wait(700);
    },
  },
  'review-release': {
    state: 'normal',
    act: async (page) => {
      await openReview(page);
      await page.keyboard.press('o');
      await wait(300);
      await page.keyboard.press('3');
      await page.keyboard.press('Shift+ArrowRight');
      await wait(700);
    },
  },
  links: { state: 'normal', act: (page) => page.keyboard.press('l') },
  held: {
    state: 'normal',
    act: async (page) => {
      await page.keyboard.press(' ');
      for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowLeft');
    },
  },
  long: { state: 'normal', act: (page) => page.getByRole('button', { name: '60\u00a0s' }).click() },
  target: {},
  strong: {},
  quiet: {},
  empty: {},
  connecting: {},
  waiting: {},
  lost: { state: 'normal', later: 'lost' },
  fault: {},
  uncalibrated: {},
  'recording-failed': {},
  recording: {},
  reduced: {},
  replay: {},
  gaps: {},
  single: {},
  refused: {},
  down: { state: 'normal', later: 'down' },
};

const { values } = parseArgs({
  options: { out: { type: 'string' }, only: { type: 'string' }, sizes: { type: 'string' }, themes: { type: 'string' } },
});
const out = values.out ?? 'test-results/screens';
const names = values.only?.split(',') ?? Object.keys(PICTURES);
const sizes = values.sizes?.split(',') ?? Object.keys(SIZES);
const themes = values.themes?.split(',') ?? ['light', 'dark'];

mkdirSync(out, { recursive: true });
const station = new FakeStation();
const url = `http://127.0.0.1:${await station.listen(0)}/`;
const browser = await launchBrowser();
for (const name of names) {
  const picture = PICTURES[name];
  station.enter(picture.state ?? name);
  const pages = [];
  for (const size of sizes) {
    for (const theme of themes) {
      const [width, height] = SIZES[size];
      const page = await browser.newPage({ viewport: { width, height }, colorScheme: theme });
      page.on('console', (message) => {
        if (message.type() === 'error' && !/ws\/live|403|503|ERR_/.test(message.text()))
          console.log(name, message.text());
      });
      page.on('pageerror', (error) => console.log(name, error.message));
      await page.goto(url);
      pages.push({ page, file: `${out}/${name}-${size}-${theme}.png` });
    }
  }
  // One hold has come and gone by then.
  await wait(7_500);
  if (picture.later) {
    station.enter(picture.later, true);
    await wait(2_500);
  }
  for (const { page, file } of pages) {
    const accept = page.getByRole('button', { name: 'Read and understood' });
    if (!picture.keepCautions && (await accept.count()) > 0) await accept.click();
    await picture.act?.(page);
    await wait(150);
    await page.screenshot({ path: file, fullPage: true });
    await page.close();
  }
}
await browser.close();
await station.close();
