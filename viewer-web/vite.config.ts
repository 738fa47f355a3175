import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

/** The packages that end up in what is shipped; their licences ask to go with them. */
const SHIPPED = [
  'preact',
  '@preact/signals',
  '@preact/signals-core',
  'uplot',
  '@fontsource-variable/atkinson-hyperlegible-next',
];

function thirdPartyLicences(): Plugin {
  return {
    name: 'third-party-licences',
    generateBundle() {
      const texts = SHIPPED.map((name) => {
        const folder = join('node_modules', name);
        const { version } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as { version: string };
        const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
        if (file === undefined) throw new Error(`no licence file: package=${name}`);
        return `${name} ${version}\n\n${readFileSync(join(folder, file), 'utf8').trim()}\n`;
      });
      this.emitFile({ type: 'asset', fileName: 'third-party.txt', source: texts.join(`\n${'-'.repeat(80)}\n\n`) });
    },
  };
}

// The station's content security policy allows nothing inline, so no asset may become a data: address.
export default defineConfig({
  base: './',
  plugins: [thirdPartyLicences()],
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
