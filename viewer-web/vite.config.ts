import { defineConfig } from 'vitest/config';

// The station's content security policy allows nothing inline, so no asset may become a data: address.
export default defineConfig({
  base: './',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: 'dist',
    target: 'es2022',
    // The style sheets use light-dark(): browsers from 2024 on.
    cssTarget: ['chrome123', 'firefox120', 'safari17.5'],
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
  },
  server: {
    proxy: {
      '/ws': { target: 'ws://127.0.0.1:8475', ws: true },
      '/api': 'http://127.0.0.1:8475',
    },
  },
  test: { include: ['src/**/*.test.ts'], environment: 'node' },
});
