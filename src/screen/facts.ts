// Named figures as text: a line or two under the number, or a column beside it.
import type { Figure } from './scene.ts';
import { type Block, centred, row, run, type StyledRow } from './styled-text.ts';
import { shorten, textWidth, wrapped } from './text.ts';

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

/** A column of facts, one below the other; a long value goes on below its beginning. */
export const factColumn = (facts: readonly Figure[], columns: number, rows: number): Block =>
  facts
    .flatMap(({ name, value }) =>
      wrapped(value, columns - NAME_WIDTH).map((line, at) =>
        row(run((at === 0 ? name : '').padEnd(NAME_WIDTH), 'quiet'), run(line, 'strong')),
      ),
    )
    .slice(0, rows);
