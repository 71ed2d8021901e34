// A terminal emulator without a process: bytes in, cells out.
import xterm from '@xterm/headless';
import { eastAsianWidth } from 'get-east-asian-width';

export interface Cell {
  readonly text: string;
  readonly width: number;
  /** SGR in words, such as `bold fg34`; empty for a plain cell. */
  readonly style: string;
}

type Widths = (codePoint: number) => 0 | 1 | 2;

/** What characters take in tables of two years: the emulator's own of Unicode 6, and one in which no mark takes a column. */
export const TABLES: { readonly [year: string]: Widths | undefined } = {
  old: undefined,
  new: (codePoint) =>
    /^[\p{M}\p{Cf}\u1160-\u11FF\uD7B0-\uD7FF]$/u.test(String.fromCodePoint(codePoint))
      ? 0
      : eastAsianWidth(codePoint),
};

export class Emulator {
  readonly terminal: xterm.Terminal;

  constructor(columns: number, rows: number, widths?: Widths) {
    this.terminal = new xterm.Terminal({ cols: columns, rows, allowProposedApi: true, scrollback: 0 });
    if (!widths) return;
    this.terminal.unicode.register(providerOf(widths));
    this.terminal.unicode.activeVersion = PROVIDED;
  }

  /** Resolves when these bytes have been taken in. */
  write(bytes: string | Uint8Array): Promise<void> {
    return new Promise((resolve) => this.terminal.write(bytes, resolve));
  }

  resize(columns: number, rows: number): void {
    this.terminal.resize(columns, rows);
  }

  /** What a person sees: one string per row, exactly as wide as the terminal. */
  screen(): string[] {
    return this.#rows().map((cells) =>
      cells.map(({ text, width }) => (width === 0 ? '' : text || ' ')).join(''),
    );
  }

  cells(): Cell[][] {
    return this.#rows();
  }

  get cursor(): { readonly row: number; readonly column: number } {
    const { cursorX, cursorY } = this.terminal.buffer.active;
    return { row: cursorY, column: cursorX };
  }

  /** True while the terminal's second screen is the one shown. */
  get onAlternateScreen(): boolean {
    return this.terminal.buffer.active.type === 'alternate';
  }

  #rows(): Cell[][] {
    const buffer = this.terminal.buffer.active;
    return Array.from({ length: this.terminal.rows }, (_, at) => {
      const line = buffer.getLine(buffer.viewportY + at);
      return Array.from({ length: this.terminal.cols }, (_, column) => {
        const cell = line?.getCell(column);
        return cell
          ? { text: cell.getChars(), width: cell.getWidth(), style: styleOf(cell) }
          : { text: '', width: 1, style: '' };
      });
    });
  }
}

const PROVIDED = 'by test';

/** A character without a width joins the one before it; the emulator keeps width and joining in the bits of one number. */
const providerOf = (wcwidth: Widths): xterm.IUnicodeVersionProvider => ({
  version: PROVIDED,
  wcwidth,
  charProperties(codePoint, preceding) {
    const width = wcwidth(codePoint);
    const before = (preceding >> 1) & 3;
    const joins = width === 0 && before > 0;
    return ((joins ? before : width) << 1) | (joins ? 1 : 0);
  },
});

/** Attributes and colours of a cell in words. */
export function styleOf(cell: xterm.IBufferCell): string {
  const words = [
    cell.isBold() ? 'bold' : '',
    cell.isDim() ? 'faint' : '',
    cell.isUnderline() ? 'underlined' : '',
    cell.isInverse() ? 'reversed' : '',
    cell.isFgDefault() ? '' : `fg${cell.getFgColor()}`,
    cell.isBgDefault() ? '' : `bg${cell.getBgColor()}`,
  ];
  return words.filter((word) => word !== '').join(' ');
}
