import { defineConfig } from 'vitest/config';

// End-to-end tests drive one browser against one station: one file after the other, never side by side.
export default defineConfig({
  test: {
    // Those that hang masses on the simulated cells need the demo and its control file; a replay is played and nothing else.
    include: process.env.HELDMARK_REPLAY
      ? ['e2e/replay/*.spec.ts']
      : [
          'e2e/*.spec.ts',
          ...(process.env.HELDMARK_DOUBLE === '1' ? ['e2e/double/*.spec.ts'] : []),
          ...(process.env.HELDMARK_DEMO_CONTROL ? ['e2e/demo/*.spec.ts'] : []),
        ],
    environment: 'node',
    fileParallelism: false,
    testTimeout: 120_000,
    hookTimeout: 60_000,
  },
});
