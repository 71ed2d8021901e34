// Stands for Ink's own build/output.js in the bundle (.build.mjs). Ink makes an object for every cell of every frame, and looks
// each up in sets of styles: most of what a plain Ink screen costs. Our boxes never overlap and are never clipped, so that a row
// of the frame is its pieces, one after the other. tests/screen/ink-output.test.ts compares every cell of both.
import { textWidth } from './text.ts';

type Transformer = (line: string, index: number) => string;
interface Piece {
  readonly x: number;
  readonly text: string;
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: SGR sequences are what this looks for
const SGR = /\x1b\[[\d;]*m/g;

// biome-ignore lint/style/noDefaultExport: Ink imports the default
export default class RowOutput {
  readonly width: number;
  readonly height: number;
  readonly #rows: Piece[][];

  constructor({ width, height }: { readonly width: number; readonly height: number }) {
    this.width = width;
    this.height = height;
    this.#rows = Array.from({ length: height }, () => []);
  }

  write(
    x: number,
    y: number,
    text: string,
    { transformers }: { readonly transformers: readonly Transformer[] },
  ): void {
    for (const [index, line] of text.split('\n').entries()) {
      const drawn = transformers.reduce((so, transformer) => transformer(so, index), line);
      if (drawn !== '') this.#rows[y + index]?.push({ x, text: drawn });
    }
  }

  clip(): never {
    throw new Error('a box with hidden overflow is drawn by Ink alone: take it out, or this file');
  }
  unclip(): void {}

  get(): { readonly output: string; readonly height: number } {
    return { output: this.#rows.map(lineOf).join('\n'), height: this.height };
  }
}

function lineOf(pieces: Piece[]): string {
  let line = '';
  let column = 0;
  for (const { x, text } of pieces.sort((a, b) => a.x - b.x)) {
    line += `${' '.repeat(Math.max(0, x - column))}${text}\x1b[0m`;
    // The last piece's width is nobody's business.
    if (pieces.length > 1) column = x + textWidth(text.replace(SGR, ''));
  }
  return line;
}
