// The huge number read off a screen as a person reads it: glyph by glyph, from the dots that were drawn.
import { FACES } from '../../src/screen/digits.ts';

type DigitFace = (typeof FACES)[number]['face'];

const INK = /[█▀▄]/;

/** The block below the row that holds `label`, as rows of dots; empty where nothing is drawn there. */
function dotsBelow(screen: readonly string[], label: string): readonly string[] {
  const at = screen.findIndex((row) => row.includes(label));
  if (at < 0) return [];
  const below = screen.slice(at + 1);
  const start = below.findIndex((row) => INK.test(row));
  const end = below.findIndex((row, index) => index > start && !INK.test(row));
  if (start < 0) return [];
  return below.slice(start, end).flatMap((row) => [dots(row, '█▀'), dots(row, '█▄')]);
}

const dots = (row: string, inked: string): string =>
  [...row].map((cell) => (inked.includes(cell) ? '#' : '.')).join('');

const inkFrom = (rows: readonly string[], column: number): number => {
  const places = rows.map((row) => row.indexOf('#', column)).filter((place) => place >= 0);
  return Math.min(Number.POSITIVE_INFINITY, ...places);
};

/** The text from this column on in one face, or undefined where the dots match none of its glyphs. */
function readFrom(rows: readonly string[], column: number, face: DigitFace, gap: number): string | undefined {
  if (inkFrom(rows, column) === Number.POSITIVE_INFINITY) return '';
  for (const [character, glyph] of face.glyphs) {
    const width = glyph[0]?.length ?? 0;
    if (character === ' ' || !glyph.every((row, at) => rows[at]?.startsWith(row, column))) continue;
    const rest = readFrom(rows, column + width + gap, face, gap);
    if (rest !== undefined) return character + rest;
  }
  return undefined;
}

/** The number drawn below `label`; undefined where none is, or where what is there is not wholly drawn. */
export function bigNumber(screen: readonly string[], label: string): string | undefined {
  const rows = dotsBelow(screen, label);
  for (const { face, gap } of FACES) {
    if (face.height !== rows.length) continue;
    const ink = inkFrom(rows, 0);
    for (let start = Math.max(0, ink - 8); start <= ink; start++) {
      const text = readFrom(rows, start, face, gap);
      if (text) return text;
    }
  }
  return undefined;
}
