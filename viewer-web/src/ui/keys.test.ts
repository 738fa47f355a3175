import { describe, expect, it } from 'vitest';
import { commandFor, isTaken, KEY_COMMANDS, type KeyPress } from './keys';

const press = (key: string, more: Partial<KeyPress> = {}): KeyPress => ({
  key,
  ctrlKey: false,
  altKey: false,
  metaKey: false,
  shiftKey: false,
  ...more,
});

describe('keys', () => {
  it('should give each key one meaning', () => {
    for (const elsewhere of ['view', 'review']) {
      const keys = KEY_COMMANDS.flatMap((command) => (command.group === elsewhere ? [] : command.keys));
      expect(new Set(keys).size).toBe(keys.length);
    }
  });

  it('should give the live trace and one contraction keys of their own', () => {
    const named = (key: string, more: object, reviewing: boolean): string | undefined =>
      commandFor({ ...press(key), ...more }, true, reviewing)?.words;
    expect(named('PageUp', {}, false)).toBe('Look back almost a window');
    expect(named('PageUp', {}, true)).toBe('Previous contraction');
    expect(named('u', {}, false)).toBeUndefined();
    expect(named('z', { ctrlKey: true }, true)).toBe('Undo the last move');
    expect(named('z', { ctrlKey: true }, false)).toBeUndefined();
    expect(named('z', {}, true)).toBe('Take the zero of all limbs');
  });

  it('should leave keys with modifiers to the browser', () => {
    expect(commandFor(press('r', { ctrlKey: true }), true)).toBeUndefined();
    expect(commandFor(press('ArrowLeft', { altKey: true }), true)).toBeUndefined();
    expect(commandFor(press('c', { metaKey: true }), true)).toBeUndefined();
  });

  it('should take capital letters and keys that need shift', () => {
    expect(commandFor(press('Z', { shiftKey: true }), true)?.label).toBe('Z');
    expect(commandFor(press('?', { shiftKey: true }), true)?.label).toBe('?');
    expect(commandFor(press('ArrowLeft', { shiftKey: true }), true)?.label).toBe('Page up');
  });

  it('should leave the named keys working where letters are switched off', () => {
    expect(commandFor(press('z'), false)).toBeUndefined();
    expect(commandFor(press('?'), false)).toBeUndefined();
    expect(commandFor(press(' '), false)?.label).toBe('Space');
    expect(commandFor(press('Home'), false)?.label).toBe('Home');
  });

  it('should leave to a focused control the keys that it needs', () => {
    expect(isTaken(press('z'), { tagName: 'INPUT', type: 'text' })).toBe(true);
    expect(isTaken(press('ArrowLeft'), { tagName: 'INPUT', type: 'range' })).toBe(true);
    expect(isTaken(press('z'), { tagName: 'INPUT', type: 'range' })).toBe(false);
    expect(isTaken(press(' '), { tagName: 'BUTTON' })).toBe(true);
    expect(isTaken(press('z'), { tagName: 'BUTTON' })).toBe(false);
    expect(isTaken(press('ArrowLeft'), { tagName: 'BODY' })).toBe(false);
  });
});
