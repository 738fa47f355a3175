import { describe, expect, it } from 'vitest';
import { cellFacts, portFacts, strengthText } from './device-sentences';

describe('devices in range', () => {
  it('says the strength in a word and in dBm', () => {
    expect(strengthText(-57)).toBe('\u221257\u00a0dBm, strong');
    expect(strengthText(-70)).toBe('\u221270\u00a0dBm, fair');
    expect(strengthText(-85)).toBe('\u221285\u00a0dBm, weak: bring it nearer');
    expect(strengthText(undefined)).toBe('strength not known');
  });

  it('says what else is known', () => {
    expect(cellFacts({ link: 'ble:1', rssiDbm: -60, paired: true, connected: true })).toBe(
      '\u221260\u00a0dBm, strong, connected, paired',
    );
    expect(portFacts({ link: 'serial:a', path: 'a', description: 'adapter', usable: false })).toBe(
      'adapter, no permission to use it',
    );
    expect(portFacts({ link: 'serial:a', path: 'a', usable: true })).toBe('');
  });
});
