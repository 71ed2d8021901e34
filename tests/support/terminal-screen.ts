// A terminal emulator without a process: bytes in, cells out.
import xterm from '@xterm/headless';

export interface Cell {
  readonly text: string;
  readonly width: number;
  /** SGR in words, such as `bold fg34`; empty for a plain cell. */
  readonly style: string;
}

export class Emulator {
  readonly terminal: xterm.Terminal;

  constructor(columns: number, rows: number) {
    this.terminal = new xterm.Terminal({ cols: columns, rows, allowProposedApi: true, scrollback: 0 });
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
