// A pen over a terminal: moves, styles and characters as bytes, with as few of them as it can.
import { STYLES, type Style } from './picture.ts';
import type { Theme } from './theme.ts';

const CSI = '\x1b[';

/** Styles as numbers; styles that look the same are one number, so that changing between them writes nothing. */
export interface Inks {
  readonly sequences: readonly string[];
  readonly same: Uint8Array;
  readonly plain: number;
}

export function inksOf(theme: Theme): Inks {
  const sequences = STYLES.map(theme);
  const plainStyle: Style = 'plain';
  const plain = sequences.indexOf(theme(plainStyle));
  return { sequences, same: Uint8Array.from(sequences, (sequence) => sequences.indexOf(sequence)), plain };
}

export class Pen {
  out = '';
  /** Where the terminal's cursor is, or -1 where nothing is to be relied on. */
  column = -1;
  #row = -1;
  readonly #inks: Inks;
  #ink: number;

  constructor(inks: Inks) {
    this.#inks = inks;
    this.#ink = inks.plain;
  }

  get ink(): number {
    return this.#ink;
  }

  moveTo(row: number, column: number): void {
    if (row === this.#row && column === this.column) return;
    const ahead = column - this.column;
    if (row === this.#row && this.column >= 0 && ahead > 0) this.out += `${CSI}${ahead === 1 ? '' : ahead}C`;
    else this.out += column === 0 ? `${CSI}${row + 1}H` : `${CSI}${row + 1};${column + 1}H`;
    this.#row = row;
    this.column = column;
  }

  /** Takes up a style by its number in `Inks.same`. */
  take(ink: number): void {
    if (ink === this.#ink) return;
    this.out += this.#inks.sequences[ink] ?? '';
    this.#ink = ink;
  }

  /** Writes a character of this width. At the last column a terminal's cursor hangs on the edge: only an absolute move is safe from there. */
  put(text: string, width: number, columns: number): void {
    this.out += text;
    this.column += width;
    if (this.column >= columns) this.column = -1;
  }

  eraseRest(): void {
    this.take(this.#inks.plain);
    this.out += `${CSI}K`;
  }

  eraseAll(): void {
    this.out += `${this.#inks.sequences[this.#inks.plain] ?? ''}${CSI}2J`;
  }

  showCursor(shown: boolean): void {
    this.out += shown ? `${CSI}?25h` : `${CSI}?25l`;
  }
}
