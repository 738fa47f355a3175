import { describe, expect, it } from 'vitest';
import { commandFor, isTaken, KEY_COMMANDS, type KeyPress, type Place } from './keys';

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
    const places = ['view', 'review', 'cell', 'guide'];
    for (const place of places) {
      const keys = KEY_COMMANDS.flatMap(({ group, keys: own }) =>
        places.includes(group) && group !== place ? [] : own,
      );
      expect(new Set(keys).size).toBe(keys.length);
    }
  });

  it('should give the live trace and one contraction keys of their own', () => {
    const named = (key: string, more: object, place: Place): string | undefined =>
      commandFor({ ...press(key), ...more }, true, place)?.words;
    expect(named('PageUp', {}, 'view')).toBe('Look back almost a window');
    expect(named('PageUp', {}, 'review')).toBe('Previous contraction');
    expect(named('u', {}, 'view')).toBeUndefined();
    expect(named('z', { ctrlKey: true }, 'review')).toBe('Undo the last move');
    expect(named('z', { ctrlKey: true }, 'view')).toBeUndefined();
    expect(named('z', {}, 'review')).toBe('Take the zero of all limbs');
    expect(named('Escape', {}, 'cell')).toBe('Back to the live trace');
    expect(named('PageUp', {}, 'cell')).toBeUndefined();
    expect(named('u', {}, 'cell')).toBeUndefined();
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
