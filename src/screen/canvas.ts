// A small drawing of dots as text, in the finest characters that can be shown.
import { braille } from './braille.ts';
import type { Glyphs } from './theme.ts';

/** Dots that a character holds, across and down. */
export const dotsPerCell: {
  readonly [glyphs in Glyphs]: { readonly across: number; readonly down: number };
} = {
  all: { across: 2, down: 4 },
  blocks: { across: 1, down: 2 },
  ascii: { across: 1, down: 1 },
};

/** Rows of text of `columns` by `rows` characters; `paint` says whether the dot x to the right, y down, is set. */
export function canvas(
  columns: number,
  rows: number,
  glyphs: Glyphs,
  paint: (x: number, y: number) => boolean,
): readonly string[] {
  if (glyphs === 'all') return braille(columns, rows, paint).map((row) => row.replaceAll('\u2800', ' '));
  const cell = glyphs === 'blocks' ? halves(paint) : (x: number, y: number) => (paint(x, y) ? '#' : ' ');
  return Array.from({ length: rows }, (_, y) =>
    Array.from({ length: columns }, (_, x) => cell(x, y)).join(''),
  );
}

const halves =
  (paint: (x: number, y: number) => boolean) =>
  (x: number, y: number): string => {
    const above = paint(x, 2 * y);
    if (paint(x, 2 * y + 1)) return above ? '█' : '▄';
    return above ? '▀' : ' ';
  };
