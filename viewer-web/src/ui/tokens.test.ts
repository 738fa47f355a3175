/**
 * The colours of tokens.css, computed. Contrast: WCAG 2.2, definitions of relative luminance and contrast ratio; limits
 * 4.5 (success criterion 1.4.3) for text and 3 (1.4.11) for lines and borders of controls. Lightness: CIE 1976 L*.
 * Colour-vision deficiency: the full-severity matrices for linear RGB of Machado, Oliveira and Fernandes (2009), IEEE
 * Trans. Vis. Comput. Graph. 15(6), 1291-1298, from memory.
 */

import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

type Rgb = readonly [number, number, number];
type Theme = 'light' | 'dark';

const CSS = readFileSync(fileURLToPath(new URL('tokens.css', import.meta.url)), 'utf8');

const PROTANOPIA = [
  [0.152286, 1.052583, -0.204868],
  [0.114503, 0.786281, 0.099216],
  [-0.003882, -0.048116, 1.051998],
] as const;

const DEUTERANOPIA = [
  [0.367322, 0.860646, -0.227968],
  [0.280085, 0.672501, 0.047413],
  [-0.01182, 0.04294, 0.968881],
] as const;

function token(name: string, theme: Theme): Rgb {
  const found = new RegExp(`--${name}: light-dark\\(#([0-9a-f]{6}), #([0-9a-f]{6})\\)`).exec(CSS);
  const hex = found?.[theme === 'light' ? 1 : 2];
  if (hex === undefined) throw new Error(`no colour --${name} in tokens.css`);
  return [0, 2, 4].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255) as unknown as Rgb;
}

function linear([r, g, b]: Rgb): Rgb {
  const one = (value: number): number => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4);
  return [one(r), one(g), one(b)];
}

function luminance([r, g, b]: Rgb): number {
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: Rgb, b: Rgb): number {
  const [high, low] = [luminance(linear(a)), luminance(linear(b))].sort((x, y) => y - x) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

function lightness(linearRgb: Rgb): number {
  const y = Math.max(0, luminance(linearRgb));
  return y > 0.008856 ? 116 * Math.cbrt(y) - 16 : 903.3 * y;
}

function seenWith(matrix: typeof PROTANOPIA | typeof DEUTERANOPIA, colour: Rgb): Rgb {
  const [r, g, b] = linear(colour);
  return matrix.map((row) => Math.min(1, Math.max(0, row[0] * r + row[1] * g + row[2] * b))) as unknown as Rgb;
}

const TEXT: readonly (readonly [string, string])[] = [
  ['ink', 'ground'],
  ['ink', 'panel'],
  ['ink-soft', 'ground'],
  ['ink-soft', 'panel'],
  ['panel', 'ink'],
];

const LINES: readonly (readonly [string, string])[] = [
  ['limb-solid', 'panel'],
  ['limb-solid', 'ground'],
  ['limb-dashed', 'panel'],
  ['limb-dashed', 'ground'],
  ['limb-stale', 'panel'],
  ['target-line', 'panel'],
  ['control', 'panel'],
  ['control', 'ground'],
];

describe.each(['light', 'dark'] as const)('colours in %s', (theme) => {
  it('should know black on white', () => {
    expect(contrast([0, 0, 0], [1, 1, 1])).toBeCloseTo(21, 9);
  });

  it.each(TEXT)('should give text %s on %s a contrast of at least 4.5', (front, back) => {
    expect(contrast(token(front, theme), token(back, theme))).toBeGreaterThanOrEqual(4.5);
  });

  it.each(LINES)('should give the line %s on %s a contrast of at least 3', (front, back) => {
    expect(contrast(token(front, theme), token(back, theme))).toBeGreaterThanOrEqual(3);
  });

  it('should tell the limbs apart by lightness, also with a deficiency of red or green vision', () => {
    const [solid, dashed] = [token('limb-solid', theme), token('limb-dashed', theme)];
    const differences = [
      Math.abs(lightness(linear(solid)) - lightness(linear(dashed))),
      ...[PROTANOPIA, DEUTERANOPIA].map((matrix) =>
        Math.abs(lightness(seenWith(matrix, solid)) - lightness(seenWith(matrix, dashed))),
      ),
    ];
    for (const difference of differences) expect(difference).toBeGreaterThanOrEqual(25);
  });
});

const PAGE = readFileSync(fileURLToPath(new URL('../../../docs/design-language.md', import.meta.url)), 'utf8');

/** Every declaration of a property in every style sheet, as `sheet: value`. */
function declared(property: string): string[] {
  const folder = fileURLToPath(new URL('.', import.meta.url));
  return readdirSync(folder)
    .filter((name) => name.endsWith('.css'))
    .flatMap((name) => {
      const found = readFileSync(folder + name, 'utf8').matchAll(new RegExp(`^\\s*${property}: (.+);$`, 'gm'));
      return [...found].map((match) => `${name}: ${match[1]}`);
    });
}

const outside = (property: string, allowed: RegExp): string[] =>
  declared(property).filter((one) => !allowed.test(one.replace(/^[^:]+: /, '')));

describe('the scale in docs/design-language.md', () => {
  it('should name every step of type', () => {
    const steps = [...CSS.matchAll(/^\s*(--text-[a-z-]+):/gm)].map((match) => match[1]);
    expect(steps.length).toBeGreaterThan(5);
    for (const step of steps) expect(PAGE).toContain(`| \`${step}\` |`);
  });

  it('should be all that the style sheets use', () => {
    expect(
      outside('font-size', /^(var\(--text-[a-z-]+\)|calc\(0\.7 \* var\(--text-[a-z-]+\)\)|0\.[49]em|100%)$/),
    ).toEqual([]);
    expect(outside('font-weight', /^(400|500|600|200 800)$/)).toEqual([]);
    expect(outside('font-style', /^normal$/)).toEqual([]);
    expect(outside('border-radius', /^(var\(--radius\)|0|50%)$/)).toEqual([]);
    expect(declared('text-transform')).toEqual([]);
    expect(declared('box-shadow')).toEqual([]);
    expect(declared('animation')).toEqual([]);
    expect(outside('transition', /^border-color 120ms ease-out$/)).toEqual([]);
  });

  it('should hold the colours too: no other is written anywhere', () => {
    const folder = fileURLToPath(new URL('.', import.meta.url));
    const others = readdirSync(folder)
      .filter((name) => name.endsWith('.css') && name !== 'tokens.css')
      .filter((name) => /#[0-9a-f]{3,8}\b|\b(rgb|hsl|oklch)a?\(/i.test(readFileSync(folder + name, 'utf8')));
    expect(others).toEqual([]);
  });
});

describe('the figures in docs/design-language.md', () => {
  it('should be those of the style sheet', () => {
    for (const [front, back] of [...TEXT, ...LINES]) {
      const [light, dark] = (['light', 'dark'] as const).map((theme) =>
        contrast(token(front, theme), token(back, theme)).toFixed(1),
      );
      expect(PAGE).toContain(`| \`${front}\` on \`${back}\` | ${light} | ${dark} |`);
    }
  });
});
