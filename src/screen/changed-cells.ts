// The stdout that Ink is given: of each whole frame, only the cells that changed go on to the terminal. Ink itself writes whole
// lines, some 900 bytes a reading where 200 do; and it clears the terminal for a frame as tall as the terminal, as ours are.
import { Writable } from 'node:stream';
import { clusters, isNarrow } from './text.ts';

/** The half of a terminal that is written to, as process.stdout has it. */
export interface TerminalOutput {
  readonly columns?: number;
  readonly rows?: number;
  write(text: string): boolean;
  on(event: 'resize' | 'drain', listener: () => void): unknown;
  off(event: 'resize' | 'drain', listener: () => void): unknown;
}

export interface Size {
  readonly columns: number;
  readonly rows: number;
}

/** The size of a terminal that does not say it. */
const USUAL: Size = { columns: 80, rows: 24 };
export const sizeOf = ({ columns, rows }: TerminalOutput): Size => ({
  columns: columns || USUAL.columns,
  rows: rows || USUAL.rows,
});

const CSI = '\x1b[';
/** From this length on a frame is one update, of which no half is seen; a terminal that does not know the mode ignores it. */
const WORTH_WRAPPING = 400;
/** Unchanged cells up to this many between two changes are written again rather than jumped over. */
const SHORT_GAP = 3;

/** Attributes of a cell, as the parameters that set them on a plain one: bold, faint, underlined, reversed, colour. */
type Pen = string;
const PLAIN: Pen = '';
/** The mark of the cell with the typing cursor: concealed (SGR 8), and never written as such. */
const CONCEALED = '8';

/** What each parameter switches off when another of its kind, or its end, comes. */
const ENDS: { readonly [parameter: string]: RegExp } = {
  22: /^[12]$/,
  24: /^4$/,
  27: /^7$/,
  28: /^8$/,
  39: /^(3[0-7]|9[0-7]|38;.*)$/,
};
const COLOUR = ENDS[39];
const ORDER = (a: string, b: string): number => Number.parseInt(a, 10) - Number.parseInt(b, 10);

/** Pens already worked out, by the one before and the sequence: as few as the theme has styles. */
const pensAfter = new Map<string, Pen>();

function penAfter(pen: Pen, parameters: string): Pen {
  const key = `${pen}m${parameters}`;
  const known = pensAfter.get(key);
  if (known !== undefined) return known;
  let on = pen === PLAIN ? [] : pen.split(' ');
  for (const one of parameters.match(/[34]8;5;\d+|[34]8;2;\d+;\d+;\d+|\d+/g) ?? ['0']) {
    const ends = ENDS[one] ?? (COLOUR?.test(one) ? COLOUR : undefined);
    if (Number(one) === 0) on = [];
    else if (ends) on = on.filter((each) => !ends.test(each));
    if (Number(one) !== 0 && !ENDS[one] && !on.includes(one)) on.push(one);
  }
  const made = on.sort(ORDER).join(' ');
  pensAfter.set(key, made);
  return made;
}

const sequenceOf = (pen: Pen): string => (pen === PLAIN ? `${CSI}m` : `${CSI}0;${pen.replaceAll(' ', ';')}m`);

/** A line of a frame as cells; `''` is what else a wide character takes. Blanks at its end are left off. */
interface Cells {
  readonly text: readonly string[];
  readonly pens: readonly Pen[];
  readonly wide: boolean;
  /** The column of the typing cursor. */
  readonly cursor: number | undefined;
}
const NONE: Cells = { text: [], pens: [], wide: false, cursor: undefined };

function cellsOf(line: string, columns: number): Cells {
  const text: string[] = [];
  const pens: Pen[] = [];
  let wide = false;
  let pen = PLAIN;
  const put = (character: string): void => {
    text.push(character);
    pens.push(pen);
  };
  for (const [at, piece] of line.split(CSI).entries()) {
    const end = at === 0 ? 0 : piece.indexOf('m') + 1;
    if (end > 0) pen = penAfter(pen, piece.slice(0, end - 1));
    const shown = piece.slice(end);
    if (isNarrow(shown)) for (const character of shown) put(character);
    else
      for (const cluster of clusters(shown)) {
        put(cluster.text);
        wide ||= cluster.width > 1;
        for (let more = 1; more < cluster.width; more += 1) put('');
      }
  }
  let whole = columns;
  while (text[whole] === '') whole -= 1;
  text.fill(' ', whole, columns);
  const marked = pens.indexOf(CONCEALED);
  if (marked >= 0) pens[marked] = PLAIN;
  let length = Math.min(text.length, columns);
  while (length > 0 && text[length - 1] === ' ' && pens[length - 1] === PLAIN) length -= 1;
  text.length = length;
  pens.length = length;
  return { text, pens, wide, cursor: marked >= 0 && marked < columns ? marked : undefined };
}

/** Bytes for a terminal, as few as it can: moves, attributes and characters. */
class Strokes {
  out = '';
  pen = PLAIN;
  readonly #columns: number;
  #row = -1;
  /** -1 where the cursor hangs on the right edge or stands behind a wide character: only an absolute move is safe from there. */
  #column = -1;

  constructor(columns: number) {
    this.#columns = columns;
  }

  get isPlaced(): boolean {
    return this.#column >= 0;
  }

  moveTo(row: number, column: number): void {
    const ahead = column - this.#column;
    if (row !== this.#row || this.#column < 0 || ahead < 0)
      this.out += column === 0 ? `${CSI}${row + 1}H` : `${CSI}${row + 1};${column + 1}H`;
    else if (ahead > 0) this.out += ahead === 1 ? `${CSI}C` : `${CSI}${ahead}C`;
    this.#row = row;
    this.#column = column;
  }

  take(pen: Pen): void {
    if (pen !== this.pen) this.out += sequenceOf(pen);
    this.pen = pen;
  }

  put({ text, pens }: Cells, at: number): void {
    this.take(pens[at] ?? PLAIN);
    this.out += text[at] ?? ' ';
    this.#column += 1;
    if (this.#column >= this.#columns || text[at + 1] === '') this.#column = -1;
  }

  eraseRest(): void {
    this.take(PLAIN);
    this.out += `${CSI}K`;
  }
}

/** What is on the terminal, line by line. */
interface Shown {
  readonly lines: string[];
  readonly cells: Cells[];
  cursor: { readonly row: number; readonly column: number } | undefined;
}

const nothingOn = (rows: number): Shown => ({
  lines: Array.from({ length: rows }, () => ''),
  cells: Array.from({ length: rows }, () => NONE),
  cursor: undefined,
});

export class ChangedCells extends Writable {
  readonly #terminal: TerminalOutput;
  #shown: Shown | undefined;
  #open = true;
  /** True while the terminal has not taken what was written last: a frame drawn now would only wait behind that one. */
  full = false;

  constructor(terminal: TerminalOutput) {
    super({ decodeStrings: false });
    this.#terminal = terminal;
  }

  get columns(): number {
    return sizeOf(this.#terminal).columns;
  }
  get rows(): number {
    return sizeOf(this.#terminal).rows;
  }

  /** One whole frame, as Ink's debug mode writes it; an empty text is its way to wait for what was written before. */
  override _write(frame: string, _: unknown, done: () => void): void {
    if (frame !== '' && !this.full) this.#draw(frame.split('\n'));
    done();
  }

  /** Whatever the terminal shows is not to be relied on: the next frame is written whole. */
  forget(): void {
    this.#shown = undefined;
  }

  /** Nothing that Ink writes from now on is for the terminal. */
  close(): void {
    this.#open = false;
  }

  /** Bytes that are no part of a frame. */
  send(bytes: string): void {
    if (this.#open) this.full = !this.#terminal.write(bytes);
  }

  #draw(lines: readonly string[]): void {
    const { columns, rows } = sizeOf(this.#terminal);
    const strokes = new Strokes(columns);
    const shown = this.#shown ?? nothingOn(rows);
    if (!this.#shown) strokes.out = `${CSI}m${CSI}2J${CSI}?25l`;
    this.#shown = shown;
    for (let row = 0; row < rows; row += 1) {
      const line = lines[row] ?? '';
      if (line === (shown.lines[row] ?? '')) continue;
      const cells = cellsOf(line, columns);
      writeChanges(strokes, row, shown.cells[row] ?? NONE, cells);
      shown.lines[row] = line;
      shown.cells[row] = cells;
    }
    strokes.take(PLAIN);
    placeCursor(strokes, shown);
    const { out } = strokes;
    if (out !== '') this.send(out.length > WORTH_WRAPPING ? `${CSI}?2026h${out}${CSI}?2026l` : out);
  }
}

function writeChanges(strokes: Strokes, row: number, from: Cells, to: Cells): void {
  // A wide character of which one half is written over spoils its neighbours, and terminals disagree on how wide some are: such
  // a row is written whole, and what follows each of them gets a new position.
  if (from.wide || to.wide) {
    strokes.moveTo(row, 0);
    strokes.eraseRest();
    for (const [at, text] of to.text.entries()) {
      if (text === '') continue;
      if (!strokes.isPlaced) strokes.moveTo(row, at);
      strokes.put(to, at);
    }
    return;
  }
  let written = -1;
  for (const at of to.text.keys()) {
    if (to.text[at] === (from.text[at] ?? ' ') && to.pens[at] === (from.pens[at] ?? PLAIN)) continue;
    if (written >= 0 && bridges(strokes, to, written, at))
      for (let gap = written; gap < at; gap += 1) strokes.put(to, gap);
    else strokes.moveTo(row, at);
    strokes.put(to, at);
    written = at + 1;
  }
  if (from.text.length <= to.text.length) return;
  strokes.moveTo(row, to.text.length);
  strokes.eraseRest();
}

/** True when writing the unchanged cells again costs less than jumping over them. */
function bridges(strokes: Strokes, cells: Cells, from: number, to: number): boolean {
  if (!strokes.isPlaced || to - from > SHORT_GAP) return false;
  for (let at = from; at < to; at += 1)
    if ((cells.text[at] ?? '').charCodeAt(0) > 0x7e || cells.pens[at] !== strokes.pen) return false;
  return true;
}

/** Shows the terminal's own cursor where a line marks it, and hides it where none does. */
function placeCursor(strokes: Strokes, shown: Shown): void {
  const row = shown.cells.findIndex(({ cursor }) => cursor !== undefined);
  const column = shown.cells[row]?.cursor;
  const had = shown.cursor;
  shown.cursor = column === undefined ? undefined : { row, column };
  if (column !== undefined && (strokes.out !== '' || had?.row !== row || had.column !== column))
    strokes.moveTo(row, column);
  if ((had === undefined) !== (column === undefined))
    strokes.out += column === undefined ? `${CSI}?25l` : `${CSI}?25h`;
}
