// The huge number under its label, the state, and named figures: a line or two under the number, or a column beside it.
import { bigText, drawnWord, leastWidth } from '../digits.ts';
import type { Glyphs } from '../glyphs.ts';
import type { Big, Figure, Scene, Standing } from '../scene.ts';
import {
  atMost,
  type Block,
  blank,
  centred,
  margin,
  row,
  run,
  type StyledRow,
  shorten,
  textWidth,
  wrapped,
} from '../text.ts';

interface UsualTexts {
  readonly [unit: string]: string;
}
/** The least room for a count, so that its digits keep their size when it passes a power of ten. */
export const USUAL_COUNTS: UsualTexts = { detents: '00', detent: '00' };
/** The same for sizes as well. Beside a panel the only lengths are depths, which stay below ten. */
const USUAL_TEXTS: UsualTexts = { ...USUAL_COUNTS, mm: '00.00', in: '0.0000' };

const unitOf = ({ unit }: Big): string => (unit === '' ? '' : ` ${unit}`);

/** Columns beside the digits and their unit. */
const AROUND = 2;

/** Columns in which a number is still drawn. */
export const leastNumber = (big: Big): number => leastWidth(big.text) + unitOf(big).length + AROUND;

/** The digits as large as fit under their label, in the middle as one, with the unit at their foot. */
export function numberRows(
  big: Big,
  columns: number,
  rows: number,
  glyphs: Glyphs,
  usual = USUAL_TEXTS,
): Block {
  const unit = unitOf(big);
  const lines = bigText(big.text, columns - unit.length - AROUND, Math.max(1, rows), glyphs, usual[big.unit]);
  const digits = lines.map((line, at) =>
    row(run(line, big.style), run(at === lines.length - 1 ? unit : ' '.repeat(unit.length), 'strong')),
  );
  return [row(run(shorten(big.label, columns), 'title')), ...digits].map((of) => centred(of, columns));
}

/** Rows of a drawn word. */
export const WORD_ROWS = 3;
/** Columns that what is written beside a drawn word usually takes. */
const BESIDE = 50;

const MOST_WRITTEN = 6;

type Stood = Pick<Scene, 'standing' | 'big'>;

/** A word that is drawn already, in place of a number, needs no other beside it. */
const isWord = (big: Big | null): boolean => /[A-Z]/.test(big?.text ?? '');

/** The state, legible from across the shop, with its words beside it; none where it doesn't fit. */
export function drawnStanding(
  { standing, big }: Stood,
  facts: readonly Figure[],
  columns: number,
  glyphs: Glyphs,
): Block {
  const word = standing && !isWord(big) ? drawnWord(standing.word, glyphs) : [];
  if (!standing || word.length === 0) return [];
  const width = textWidth(word[0] ?? '');
  const indent = Math.max(1, margin(columns, width + GAP + BESIDE));
  const room = columns - indent - width - GAP - 1;
  const written = standingRows(standing, room, MOST_WRITTEN);
  const { lines, rest } = factLines(facts, room, WORD_ROWS - written.length, 'left');
  const beside = [...written, ...lines];
  const drawn = Array.from({ length: Math.max(WORD_ROWS, beside.length) }, (_, at) =>
    row(
      blank(indent),
      run((word[at] ?? '').padEnd(width), standing.style),
      blank(GAP),
      ...(beside[at] ?? []),
    ),
  );
  return [...drawn, ...factLines(rest, columns - 2, 2).lines.map((of) => centred(of, columns))];
}

/** The standing, on more rows where it is too long for one. */
export function standingRows({ mark, word, about, style }: Standing, columns: number, most: number): Block {
  const room = Math.max(1, columns - textWidth(word) - 6);
  const [first = '', ...more] = most > 1 ? wrapped(about, room) : [shorten(about, room)];
  const rest = atMost(wrapped(more.join(' '), columns - 2), most - 1, columns - 2);
  return [row(run(`${mark} ${word}`, style), run(`  ${first}`)), ...rest.map((line) => row(line))];
}

const GAP = 3;
const NAME_WIDTH = 17;

/** As many figures as there is room for, in their order, in at most `most` rows, and those that are left; a long one is cut, or left. */
export function factLines(
  facts: readonly Figure[],
  columns: number,
  most: number,
  tooLong: 'cut' | 'left' = 'cut',
): { readonly lines: Block; readonly rest: readonly Figure[] } {
  const lines: StyledRow[] = [];
  let rest = facts;
  while (rest.length > 0 && lines.length < most) {
    const over = rest.findIndex((_, at) => lineWidth(rest.slice(0, at + 1)) > columns);
    const fits = over < 0 ? rest.length : Math.max(over, tooLong === 'cut' ? 1 : 0);
    if (fits === 0) break;
    lines.push(factLine(rest.slice(0, fits), columns));
    rest = rest.slice(fits);
  }
  return { lines, rest };
}

const lineWidth = (facts: readonly Figure[]): number =>
  facts.reduce((sum, { name, value }) => sum + textWidth(name) + 1 + textWidth(value) + GAP, -GAP);

const factLine = (facts: readonly Figure[], columns: number): StyledRow =>
  facts.flatMap(({ name, value }, at) => [
    run(at > 0 ? ' '.repeat(GAP) : ''),
    run(`${name} `, 'quiet'),
    run(shorten(value, columns - textWidth(name) - 1), 'strong'),
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
