// What can be drawn: everything, blocks without Braille (a bare Linux console), or ASCII alone; and small drawings of dots in each.
import type { Environment } from './theme.ts';

export type Glyphs = 'all' | 'blocks' | 'ascii';

/** Glyphs from the locale: the first set of LC_ALL, LC_CTYPE and LANG must name UTF-8. */
export function glyphsOf(env: Environment): Glyphs {
  const locale = env.LC_ALL || env.LC_CTYPE || env.LANG || '';
  if (!/utf-?8/i.test(locale)) return 'ascii';
  return env.TERM === 'linux' ? 'blocks' : 'all';
}

/** Our own drawing, and below each character its nearest in ASCII. */
const DRAWN = '●○◐◆◇▲▼▽▸‹›×·─–┤…↑↓█▀▄▓▒░';
const PLAIN = '*o%@~!v,><>x.--].^v#"o%=:';
const NEAREST: ReadonlyMap<string, string> = new Map([
  ...[...DRAWN].map((character, at) => [character, PLAIN.charAt(at)] as const),
  ['±', '+/-'],
  ['°', ' deg'],
]);
const OTHERS = /[^\x20-\x7e]/gu;

/** The same text in ASCII alone; it may get longer. */
export const inAscii = (text: string): string =>
  text.replace(OTHERS, (character) => NEAREST.get(character) ?? '?');

/** Dots that a character holds, across and down. */
export const dotsPerCell: {
  readonly [glyphs in Glyphs]: { readonly across: number; readonly down: number };
} = {
  all: { across: 2, down: 4 },
  blocks: { across: 1, down: 2 },
  ascii: { across: 1, down: 1 },
};

/** Dots packed by quarters of a character: half as wide as they are tall. */
const QUARTERS = ' ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█';

type Paint = (x: number, y: number) => boolean;

/** Rows of text of `columns` by `rows` characters; `paint` says whether the dot x to the right, y down, is set. */
export function canvas(
  columns: number,
  rows: number,
  by: Glyphs | 'quarters',
  paint: Paint,
): readonly string[] {
  const cell = { all: braille, blocks: halves, ascii: hashes, quarters }[by];
  return Array.from({ length: rows }, (_, y) =>
    Array.from({ length: columns }, (_, x) => cell(x, y, paint)).join(''),
  );
}

const hashes = (x: number, y: number, paint: Paint): string => (paint(x, y) ? '#' : ' ');

function halves(x: number, y: number, paint: Paint): string {
  const above = paint(x, 2 * y);
  if (paint(x, 2 * y + 1)) return above ? '█' : '▄';
  return above ? '▀' : ' ';
}

const quarters = (x: number, y: number, paint: Paint): string =>
  QUARTERS[
    (paint(2 * x, 2 * y) ? 1 : 0) +
      (paint(2 * x + 1, 2 * y) ? 2 : 0) +
      (paint(2 * x, 2 * y + 1) ? 4 : 0) +
      (paint(2 * x + 1, 2 * y + 1) ? 8 : 0)
  ] ?? ' ';

/** Bit of each dot in its pattern, by row and column (Unicode Standard, block Braille Patterns, U+2800; from memory). */
const BITS = [
  [0x01, 0x08],
  [0x02, 0x10],
  [0x04, 0x20],
  [0x40, 0x80],
] as const;

function braille(column: number, row: number, paint: Paint): string {
  let pattern = 0;
  BITS.forEach((bits, down) => {
    bits.forEach((bit, right) => {
      if (paint(2 * column + right, 4 * row + down)) pattern |= bit;
    });
  });
  return pattern === 0 ? ' ' : String.fromCodePoint(0x2800 + pattern);
}
