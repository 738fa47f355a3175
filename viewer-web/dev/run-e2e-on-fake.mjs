// Runs the end-to-end tests, and those of states that a healthy station does not have, against the station double.

import { spawn } from 'node:child_process';
import { FakeStation } from './fake-station.mjs';

const station = new FakeStation();
const address = `http://127.0.0.1:${await station.listen(0)}/`;
const tests = spawn('npx', ['vitest', 'run', '--config', 'vitest.e2e.config.ts', ...process.argv.slice(2)], {
  stdio: 'inherit',
  env: { ...process.env, HELDMARK_URL: address, HELDMARK_DOUBLE: '1' },
});
tests.on('exit', async (code) => {
  await station.close();
  process.exit(code ?? 1);
});
