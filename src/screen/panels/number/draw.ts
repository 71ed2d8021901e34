// Draws the huge number with its unit at its foot, in the middle of the room it has.
import { bigText } from '../../digits/digits.ts';
import { type Block, row, run } from '../../picture.ts';
import type { Big } from '../../scene.ts';
import type { Glyphs } from '../../theme.ts';

/** The number's rows, all equally wide so that it can be centred as one. */
export function drawNumber(big: Big, columns: number, rows: number, glyphs: Glyphs): Block {
  const unit = big.unit === '' ? '' : ` ${big.unit}`;
  const lines = bigText(big.text, columns - unit.length - 2, rows, glyphs);
  return lines.map((line, at) =>
    row(run(line, big.style), run(at === lines.length - 1 ? unit : ' '.repeat(unit.length), 'strong')),
  );
}
