// The huge number: the largest face that fits, as rows of text.
import type { Glyphs } from '../glyphs.ts';
import { dotsOf, enlarged, type Face } from './face.ts';
import { large } from './large.ts';
import { medium } from './medium.ts';
import { small } from './small.ts';

/** From large to small; each with the dots between its characters. */
const FACES: readonly { readonly face: Face; readonly gap: number }[] = [
  { face: enlarged(large, 2), gap: 4 },
  { face: enlarged(medium, 2), gap: 3 },
  { face: large, gap: 2 },
  { face: medium, gap: 1 },
  { face: small, gap: 1 },
];

/** Drawn texts, kept: a bench shows the same few thousand numbers again and again. */
const drawn = new Map<string, readonly string[]>();
const KEPT_AT_MOST = 500;

/**
 * The text drawn as large as fits into `columns` by `rows`, all rows equally wide; never so large that `usual` would not fit.
 * Where nothing fits, or a character has no glyph, the text itself, on one row.
 */
export function bigText(
  text: string,
  columns: number,
  rows: number,
  glyphs: Glyphs,
  usual = '',
): readonly string[] {
  const key = `${text}|${columns}|${rows}|${glyphs}|${usual}`;
  const known = drawn.get(key);
  if (known) return known;
  if (drawn.size >= KEPT_AT_MOST) drawn.clear();
  const made = draw(text, columns, rows, glyphs, usual);
  drawn.set(key, made);
  return made;
}

function draw(text: string, columns: number, rows: number, glyphs: Glyphs, usual: string): readonly string[] {
  for (const { face, gap } of FACES) {
    // Rows of ASCII cannot show half a row, which the small face needs.
    if (face.height > 2 * rows || (glyphs === 'ascii' && face === small)) continue;
    const [dots, room] = [text, usual].map((each) => dotsOf(face, each, gap));
    if (dots && [dots, room].every((each) => (each?.[0]?.length ?? 0) <= columns))
      return rowsOf(dots, glyphs);
  }
  return [text];
}

function rowsOf(dots: readonly string[], glyphs: Glyphs): readonly string[] {
  return Array.from({ length: dots.length / 2 }, (_, row) => {
    const above = dots[2 * row] ?? '';
    const below = dots[2 * row + 1] ?? '';
    return [...above].map((dot, column) => cellOf(dot === '#', below[column] === '#', glyphs)).join('');
  });
}

function cellOf(above: boolean, below: boolean, glyphs: Glyphs): string {
  if (glyphs === 'ascii') return above || below ? '#' : ' ';
  if (above) return below ? '█' : '▀';
  return below ? '▄' : ' ';
}
