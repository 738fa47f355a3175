import { defineConfig } from 'vitest/config';

// End-to-end tests drive one browser against one station: one file after the other, never side by side.
export default defineConfig({
  test: {
    include: process.env.HELDMARK_DOUBLE === '1' ? ['e2e/**/*.spec.ts'] : ['e2e/*.spec.ts'],
    environment: 'node',
    fileParallelism: false,
    testTimeout: 120_000,
    hookTimeout: 60_000,
  },
});
