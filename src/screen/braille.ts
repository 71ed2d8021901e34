// Dots to text: a picture of two by four dots a character, in the Braille patterns of Unicode (U+2800 to U+28FF).

/** Bit of each dot in its pattern, by row and column (Unicode Standard, block Braille Patterns; from memory). */
const BITS = [
  [0x01, 0x08],
  [0x02, 0x10],
  [0x04, 0x20],
  [0x40, 0x80],
] as const;

/**
 * Rows of text, `width` by `height` characters. `paint` says whether a dot is set: x from 0 to 2 width - 1 rightwards,
 * y from 0 to 4 height - 1 downwards. An empty cell is the blank pattern U+2800, so that columns stay true.
 */
export function braille(
  width: number,
  height: number,
  paint: (x: number, y: number) => boolean,
): readonly string[] {
  return Array.from({ length: height }, (_, row) =>
    Array.from({ length: width }, (_, column) => cell(column, row, paint)).join(''),
  );
}

function cell(column: number, row: number, paint: (x: number, y: number) => boolean): string {
  let pattern = 0x2800;
  BITS.forEach((bits, down) => {
    bits.forEach((bit, right) => {
      if (paint(2 * column + right, 4 * row + down)) pattern |= bit;
    });
  });
  return String.fromCodePoint(pattern);
}
