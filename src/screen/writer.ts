// The frame writer: the fewest bytes that turn the last picture on the terminal into the next one.
import { type ClusterTable, CONTINUED, type Grid, makeClusters, makeGrid, paint, textOf } from './grid.ts';
import { type Inks, inksOf, Pen } from './pen.ts';
import type { Picture } from './picture.ts';
import type { Theme } from './theme.ts';

// From this length on a frame is wrapped as one update, so that no half of it is seen. Terminals that do not know
// the mode ignore it, as they do any unknown private mode (ECMA-48 5.4 keeps them private; from memory).
const WORTH_WRAPPING = 400;
const BEGIN_UPDATE = '\x1b[?2026h';
const END_UPDATE = '\x1b[?2026l';
// Unchanged cells up to this many between two changes are written again rather than jumped over.
const SHORT_GAP = 3;
const BLANK = 0x20;
const LAST_ASCII = 0x7e;
const MOST_CLUSTERS = 4096;

/** What is on the terminal, and a second grid to paint the next picture into. */
interface Sheets {
  readonly shown: Grid;
  readonly spare: Grid;
  readonly cursor: Picture['cursor'] | null;
}

/** Writes pictures to a terminal that nobody else writes to. */
export class FrameWriter {
  readonly #inks: Inks;
  #table: ClusterTable = makeClusters();
  #sheets: Sheets | undefined;

  constructor(theme: Theme) {
    this.#inks = inksOf(theme);
  }

  /** The bytes that make the terminal show this picture; empty when it does already. To be written at once. */
  frame(picture: Picture): string {
    const pen = new Pen(this.#inks);
    if (this.#table.texts.length > MOST_CLUSTERS) this.forget();
    const { shown, spare, cursor } = this.#sheetsFor(picture, pen);
    paint(spare, picture, this.#table);
    for (let row = 0; row < picture.height; row += 1) this.#writeRow(pen, shown, spare, row);
    pen.take(this.#inks.plain);
    placeCursor(pen, cursor, picture.cursor);
    this.#sheets = { shown: spare, spare: shown, cursor: picture.cursor };
    return pen.out.length > WORTH_WRAPPING ? BEGIN_UPDATE + pen.out + END_UPDATE : pen.out;
  }

  /** After a resize, or after anything else wrote to the terminal: the next frame repaints everything. */
  forget(): void {
    this.#sheets = undefined;
    this.#table = makeClusters();
  }

  #sheetsFor({ width, height }: Picture, pen: Pen): Sheets {
    const has = this.#sheets;
    if (has && has.shown.columns === width && has.shown.rows === height) return has;
    pen.eraseAll();
    return { shown: makeGrid(width, height), spare: makeGrid(width, height), cursor: null };
  }

  #writeRow(pen: Pen, from: Grid, to: Grid, row: number): void {
    if (from.wide[row] || to.wide[row]) this.#writeWideRow(pen, from, to, row);
    else this.#writeNarrowRow(pen, from, to, row);
  }

  #writeNarrowRow(pen: Pen, from: Grid, to: Grid, row: number): void {
    const end = this.#inkEnd(to, row);
    let written = -1;
    for (let column = 0; column < end; column += 1) {
      if (!this.#differs(from, to, row, column)) continue;
      if (written >= 0 && this.#bridges(pen, to, row, written, column))
        for (let gap = written; gap < column; gap += 1) this.#put(pen, to, row, gap);
      else pen.moveTo(row, column);
      this.#put(pen, to, row, column);
      written = column + 1;
    }
    if (this.#inkEnd(from, row) <= end) return;
    pen.moveTo(row, end);
    pen.eraseRest();
  }

  // Wide characters spoil their neighbours when only half of one is written over: such a row is written whole.
  #writeWideRow(pen: Pen, from: Grid, to: Grid, row: number): void {
    let column = 0;
    while (column < to.columns && !this.#differs(from, to, row, column)) column += 1;
    if (column === to.columns) return;
    pen.moveTo(row, 0);
    pen.eraseRest();
    const end = this.#inkEnd(to, row);
    for (column = 0; column < end; column += 1) this.#put(pen, to, row, column);
  }

  #put(pen: Pen, grid: Grid, row: number, column: number): void {
    const cell = row * grid.columns + column;
    const code = grid.chars[cell] ?? BLANK;
    if (code === CONTINUED) return;
    const wide = column + 1 < grid.columns && grid.chars[cell + 1] === CONTINUED;
    pen.take(this.#inkAt(grid, cell));
    pen.put(textOf(code, this.#table), wide ? 2 : 1, grid.columns);
  }

  #inkAt(grid: Grid, cell: number): number {
    return this.#inks.same[grid.styles[cell] ?? 0] ?? this.#inks.plain;
  }

  #differs(from: Grid, to: Grid, row: number, column: number): boolean {
    const cell = row * to.columns + column;
    if (from.chars[cell] !== to.chars[cell]) return true;
    return from.styles[cell] !== to.styles[cell] && this.#inkAt(from, cell) !== this.#inkAt(to, cell);
  }

  /** True when writing the unchanged cells again costs less than jumping over them. */
  #bridges(pen: Pen, grid: Grid, row: number, from: number, to: number): boolean {
    if (pen.column < 0 || to - from > SHORT_GAP) return false;
    for (let column = from; column < to; column += 1) {
      const cell = row * grid.columns + column;
      if ((grid.chars[cell] ?? 0) > LAST_ASCII || this.#inkAt(grid, cell) !== pen.ink) return false;
    }
    return true;
  }

  /** One past the row's last cell that is not a plain blank. */
  #inkEnd(grid: Grid, row: number): number {
    const start = row * grid.columns;
    let end = grid.columns;
    while (end > 0 && this.#isEmpty(grid, start + end - 1)) end -= 1;
    return end;
  }

  #isEmpty(grid: Grid, cell: number): boolean {
    return grid.chars[cell] === BLANK && this.#inkAt(grid, cell) === this.#inks.plain;
  }
}

/** Shows the cursor where the picture wants it; `had` is null when nothing is known of it. */
function placeCursor(pen: Pen, had: Picture['cursor'] | null, wanted: Picture['cursor']): void {
  const moved = had?.row !== wanted?.row || had?.column !== wanted?.column;
  if (wanted && (moved || pen.out !== '')) pen.moveTo(wanted.row, wanted.column);
  if (had === null || (had === undefined) !== (wanted === undefined)) pen.showCursor(wanted !== undefined);
}
