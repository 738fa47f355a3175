// Measures how fast the viewer draws: frames per second, time between frames, and time spent in each frame's callback.
//
//   node dev/measure-frames.mjs [--url http://127.0.0.1:8470/] [--seconds 15] [--window 10]
//
// Without --url it starts the station double (two limbs at 1 kHz). Prints one JSON line.

import { parseArgs } from 'node:util';
import { launchBrowser } from './browser.mjs';
import { FakeStation } from './fake-station.mjs';

const { values } = parseArgs({
  options: { url: { type: 'string' }, seconds: { type: 'string' }, window: { type: 'string' } },
});
const seconds = Number(values.seconds ?? 15);
const windowS = Number(values.window ?? 10);
const station = values.url ? undefined : new FakeStation();
const url = values.url ?? `http://127.0.0.1:${await station.listen(0)}/`;
const browser = await launchBrowser();
const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
await page.addInitScript(() => {
  const frames = { callbackMs: [], atMs: [] };
  window.frames_ = frames;
  const original = window.requestAnimationFrame.bind(window);
  window.requestAnimationFrame = (callback) =>
    original((timeMs) => {
      const startMs = performance.now();
      callback(timeMs);
      // uPlot draws in the microtasks of the callback: they are over when a later microtask runs.
      queueMicrotask(() => queueMicrotask(() => frames.callbackMs.push(performance.now() - startMs)));
      frames.atMs.push(timeMs);
    });
});
await page.goto(url);
await page.getByRole('button', { name: 'Read and understood' }).click();
await page.getByRole('button', { name: `${windowS}\u00a0s`, exact: true }).click();
await page.waitForTimeout(windowS * 500);
await page.evaluate(() => {
  window.frames_.callbackMs.length = 0;
  window.frames_.atMs.length = 0;
});
await page.waitForTimeout(seconds * 1000);
const { callbackMs, atMs } = await page.evaluate(() => window.frames_);
const betweenMs = atMs.slice(1).map((at, i) => at - atMs[i]);
console.log(
  JSON.stringify({
    windowS,
    framesPerSecond: round(betweenMs.length / ((atMs.at(-1) - atMs[0]) / 1000)),
    betweenMs: quantiles(betweenMs),
    callbackMs: quantiles(callbackMs),
  }),
);
await browser.close();
await station?.close();

function quantiles(list) {
  const sorted = [...list].sort((a, b) => a - b);
  const at = (share) => round(sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]);
  return { p50: at(0.5), p95: at(0.95), p99: at(0.99), max: round(sorted.at(-1)) };
}

function round(value) {
  return Math.round(value * 100) / 100;
}
