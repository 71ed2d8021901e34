// The huge number under its label, where things stand, and named figures: a line or two under the number, or a column beside it.
import { bigText } from '../digits.ts';
import type { Glyphs } from '../glyphs.ts';
import type { Big, Figure, Standing } from '../scene.ts';
import { type Block, centred, row, run, type StyledRow } from '../styled-text.ts';
import { atMost, shorten, textWidth, wrapped } from '../text.ts';

/** Room that the digits are given at least, so that they keep their size while a number comes and goes over a power of ten. */
const USUAL_TEXT: { readonly [unit: string]: string } = {
  mm: '00.00',
  in: '0.0000',
  detents: '00',
  detent: '00',
};

/** The digits as large as fit under their label, in the middle as one, with the unit at their foot. */
export function numberRows(big: Big, columns: number, rows: number, glyphs: Glyphs): Block {
  const unit = big.unit === '' ? '' : ` ${big.unit}`;
  const lines = bigText(big.text, columns - unit.length - 2, Math.max(1, rows), glyphs, USUAL_TEXT[big.unit]);
  const digits = lines.map((line, at) =>
    row(run(line, big.style), run(at === lines.length - 1 ? unit : ' '.repeat(unit.length), 'strong')),
  );
  return [row(run(shorten(big.label, columns), 'title')), ...digits].map((of) => centred(of, columns));
}

/** The standing on one row; where it is too long for one, on up to four, if `whole`. */
export function standingRows({ mark, word, about, style }: Standing, columns: number, whole: boolean): Block {
  const room = Math.max(1, columns - textWidth(word) - 6);
  const [first = '', ...more] = whole ? wrapped(about, room) : [shorten(about, room)];
  const rest = more.length > 0 ? atMost(wrapped(more.join(' '), columns - 2), 3, columns - 2) : [];
  const rows = [row(run(`${mark} ${word}`, style), run(`  ${first}`)), ...rest.map((line) => row(line))];
  return rows.map((of) => centred(of, columns));
}

const GAP = 3;
const NAME_WIDTH = 17;
/** As many figures as there is room for, in their order, in at most `most` rows. */
export function factLines(facts: readonly Figure[], columns: number, most: number): Block {
  const lines: (readonly Figure[])[] = [];
  let line: readonly Figure[] = [];
  for (const fact of facts) {
    if (line.length > 0 && lineWidth([...line, fact]) > columns - 2) {
      lines.push(line);
      line = [];
    }
    line = [...line, fact];
  }
  const all = line.length > 0 ? [...lines, line] : lines;
  return all.slice(0, most).map((of) => centred(factLine(of, columns), columns));
}

const lineWidth = (facts: readonly Figure[]): number =>
  facts.reduce((sum, { name, value }) => sum + textWidth(name) + 1 + textWidth(value) + GAP, -GAP);

const factLine = (facts: readonly Figure[], columns: number): StyledRow =>
  facts.flatMap(({ name, value }, at) => [
    run(at > 0 ? ' '.repeat(GAP) : ''),
    run(`${name} `, 'quiet'),
    run(shorten(value, columns - textWidth(name) - 3), 'strong'),
  ]);

/** A column of facts, one below the other; a long value begins nearer to its name, or goes on below its beginning. */
export const factColumn = (facts: readonly Figure[], columns: number, rows: number): Block =>
  facts
    .flatMap(({ name, value }) => {
      const onOneRow = textWidth(name) + 2 + textWidth(value) <= columns;
      const names = onOneRow ? Math.min(NAME_WIDTH, columns - textWidth(value)) : NAME_WIDTH;
      return wrapped(value, columns - names).map((line, at) =>
        row(run((at === 0 ? name : '').padEnd(names), 'quiet'), run(line, 'strong')),
      );
    })
    .slice(0, rows);
