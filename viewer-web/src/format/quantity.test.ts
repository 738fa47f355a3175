import { describe, expect, it } from 'vitest';
import cases from '../../vectors/rounding.json' with { type: 'json' };
import { decimalsFor, isKnown, writeFixed, writeQuantity, writeSigned } from './quantity';

describe('quantity', () => {
  it.each(cases)('should write $value with $standardUncertainty as in the shared vectors', (example) => {
    expect(writeQuantity(example)).toBe(example.text);
  });

  it('should refuse a value without its uncertainty', () => {
    expect(() => writeQuantity({ value: 1, unit: 'N' })).toThrow(/no uncertainty/);
    expect(() => writeQuantity({ value: 1, standardUncertainty: 0, unit: 'N' })).toThrow(/no uncertainty/);
    expect(() => writeQuantity({ value: Number.NaN, standardUncertainty: 1, unit: 'N' })).toThrow(/no uncertainty/);
    expect(isKnown({ value: 1, standardUncertainty: Number.NaN, unit: 'N' })).toBe(false);
  });

  it('should put a plus sign on positive values only', () => {
    expect(writeSigned({ value: 4.2, standardUncertainty: 1.9, unit: '%' })).toBe('+4.2(1.9)\u00a0%');
    expect(writeSigned({ value: -4.2, standardUncertainty: 1.9, unit: '%' })).toBe('\u22124.2(1.9)\u00a0%');
    expect(writeSigned({ value: 0.01, standardUncertainty: 1.9, unit: '%' })).toBe('0.0(1.9)\u00a0%');
    expect(writeSigned({ value: 0.5, standardUncertainty: 1.9, unit: '%' })).toBe('+0.5(1.9)\u00a0%');
  });

  it('should not put a sign on zero', () => {
    expect(writeFixed(-0.04, 1)).toBe('0.0');
    expect(writeFixed(-0.06, 1)).toBe('\u22120.1');
  });

  it('should find the decimals of two significant digits', () => {
    expect([0.0996, 0.31, 1.1, 9.96, 127].map(decimalsFor)).toEqual([2, 2, 1, 0, -1]);
  });
});
