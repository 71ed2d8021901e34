// What styles look like where there are 256 colours, sixteen, none, or no attributes at all; and what the environment allows.
import { describe, expect, test } from 'vitest';
import { glyphsOf } from '../../src/screen/glyphs.ts';
import { colourDepthOf, STYLES, themeOf } from '../../src/screen/theme.ts';

describe('the environment', () => {
  test.each([
    [{ TERM: 'xterm-256color' }, '256'],
    [{ TERM: 'xterm' }, '16'],
    [{ TERM: 'xterm', COLORTERM: 'truecolor' }, '256'],
    [{ TERM: 'xterm-256color', NO_COLOR: '1' }, 'none'],
    [{ TERM: 'xterm-256color', NO_COLOR: '' }, '256'],
    [{ TERM: 'xterm', NO_COLOR: '1', FORCE_COLOR: '2' }, '256'],
    [{ TERM: 'xterm-256color', FORCE_COLOR: '0' }, 'none'],
    [{ TERM: 'xterm-256color', FORCE_COLOR: '1' }, '16'],
    [{ TERM: 'dumb', FORCE_COLOR: '3' }, 'bare'],
    [{}, '16'],
  ] as const)('%j allows %s', (env, depth) => {
    expect(colourDepthOf(env)).toBe(depth);
  });

  test.each([
    [{ LANG: 'de_CH.UTF-8' }, 'all'],
    [{ LANG: 'C', LC_ALL: 'C.utf8' }, 'all'],
    [{ LANG: 'C.UTF-8', LC_ALL: 'POSIX' }, 'ascii'],
    [{ LANG: 'C.UTF-8', TERM: 'linux' }, 'blocks'],
    [{}, 'ascii'],
  ] as const)('%j shows %s', (env, glyphs) => {
    expect(glyphsOf(env)).toBe(glyphs);
  });
});

const coloured = /[;[](3[0-7]|9[0-7]|38;5;\d+)(?=[;m])/;

test('without colours no style has one, and important styles still stand out', () => {
  const theme = themeOf('none');
  for (const style of STYLES) expect(theme(style)).not.toMatch(coloured);
  for (const style of ['near', 'at', 'past', 'caution', 'bad', 'chosen', 'here'] as const)
    expect(theme(style)).not.toBe(theme('plain'));
});

test('sixteen colours are never more', () => {
  for (const style of STYLES) expect(themeOf('16')(style)).not.toMatch(/38;5/);
});

test('the zones differ in colour too, where there is any', () => {
  for (const depth of ['16', '256'] as const) {
    const zones = (['value', 'near', 'at', 'past'] as const).map(themeOf(depth));
    expect(new Set(zones).size).toBe(4);
  }
});

test('every style starts from nothing, so that no attribute leaks from one to the next', () => {
  for (const style of STYLES) expect(themeOf('256')(style).slice(1)).toMatch(/^\[0(;[\d;]+)?m$/);
  for (const style of STYLES) if (style !== 'cursor') expect(themeOf('bare')(style)).toBe('');
});
