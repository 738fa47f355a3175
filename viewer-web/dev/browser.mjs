// Starts Chromium for screens and end-to-end tests: Debian's own, quiet, with a profile that is thrown away.

import { existsSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const PROGRAMS = [
  process.env.HELDMARK_CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
];

const ARGUMENTS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-dev-shm-usage',
];

export async function launchBrowser() {
  const executablePath = PROGRAMS.find((program) => program && existsSync(program));
  if (!executablePath) throw new Error('no Chromium found: install the package chromium, or set HELDMARK_CHROMIUM');
  const userDataDir = mkdtempSync(join(tmpdir(), 'heldmark-browser-'));
  return chromium.launch({ executablePath, headless: true, args: [...ARGUMENTS, `--disk-cache-dir=${userDataDir}`] });
}
