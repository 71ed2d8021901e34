// The huge number under its label, with its unit at its foot, in the middle of the room it has.
import type { ReactNode } from 'react';
import { bigText } from '../digits.ts';
import type { Glyphs } from '../glyphs.ts';
import { Rows } from '../rows.tsx';
import type { Big } from '../scene.ts';
import { type Block, row, run } from '../styled-text.ts';
import { shorten } from '../text.ts';

export const NumberPanel = ({
  big,
  columns,
  rows,
}: {
  big: Big;
  columns: number;
  rows: Block;
}): ReactNode => (
  <>
    <Rows rows={[row(run(shorten(big.label, columns), 'title'))]} within={columns} />
    <Rows rows={rows} within={columns} />
  </>
);

/** Room that the digits are given at least, so that they keep their size while a number comes and goes over a power of ten. */
const USUAL_TEXT: { readonly [unit: string]: string } = {
  mm: '00.00',
  in: '0.0000',
  detents: '00',
  detent: '00',
};

/** The digits' rows, all equally wide so that they stand in the middle as one. */
export function numberRows(big: Big, columns: number, rows: number, glyphs: Glyphs): Block {
  const unit = big.unit === '' ? '' : ` ${big.unit}`;
  const lines = bigText(big.text, columns - unit.length - 2, Math.max(1, rows), glyphs, USUAL_TEXT[big.unit]);
  return lines.map((line, at) =>
    row(run(line, big.style), run(at === lines.length - 1 ? unit : ' '.repeat(unit.length), 'strong')),
  );
}
