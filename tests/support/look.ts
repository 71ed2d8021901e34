// The emulator's screen as an SVG and as a PNG, to be looked at; blocks and Braille are drawn as shapes, so that no font is needed for them.
import type { Cell } from './terminal-screen.ts';

const CELL = { width: 9, height: 18 } as const;
const MARGIN = 12;
const GROUND = '#14171a';
const INK = '#d8d8d2';

const SIXTEEN = [
  '#2b2f33',
  '#c8553d',
  '#5f9e3e',
  '#c9952c',
  '#4f86b8',
  '#9a6aa8',
  '#3d9c96',
  '#d8d8d2',
  '#6b7075',
  '#e0705a',
  '#7cc25a',
  '#e6b450',
  '#6fa5d6',
  '#b98ac6',
  '#5cbdb6',
  '#f4f4ef',
];

/** The 256 colours: the first sixteen are a terminal's own, then a cube of six steps, then greys (as xterm has them, from memory). */
function colour(index: number): string {
  if (index < 16) return SIXTEEN[index] ?? INK;
  if (index >= 232) return grey(8 + 10 * (index - 232));
  const at = index - 16;
  const step = (n: number): string => hex(n === 0 ? 0 : 55 + 40 * n);
  return `#${step(Math.floor(at / 36))}${step(Math.floor(at / 6) % 6)}${step(at % 6)}`;
}
const hex = (value: number): string => value.toString(16).padStart(2, '0');
const grey = (value: number): string => `#${hex(value).repeat(3)}`;

interface Paint {
  readonly ink: string;
  readonly ground: string | undefined;
  readonly bold: boolean;
  readonly faint: boolean;
  readonly underlined: boolean;
}

function paintOf(style: string): Paint {
  const words = style.split(' ');
  const found = (prefix: string): string | undefined => {
    const word = words.find((one) => one.startsWith(prefix));
    return word ? colour(Number(word.slice(2))) : undefined;
  };
  const reversed = words.includes('reversed');
  const ink = found('fg') ?? INK;
  const ground = found('bg');
  return {
    ink: reversed ? (ground ?? GROUND) : ink,
    ground: reversed ? ink : ground,
    bold: words.includes('bold'),
    faint: words.includes('faint'),
    underlined: words.includes('underlined'),
  };
}

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
const rect = (x: number, y: number, width: number, height: number, fill: string): string =>
  `<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="${fill}"/>`;

/** Parts of a cell that a block element fills: x, y, width, height as shares of the cell (Unicode block Block Elements, from memory). */
const BLOCKS: ReadonlyMap<string, readonly [number, number, number, number]> = new Map([
  ['█', [0, 0, 1, 1]],
  ['▀', [0, 0, 1, 0.5]],
  ['▄', [0, 0.5, 1, 0.5]],
  ['▌', [0, 0, 0.5, 1]],
  ['▐', [0.5, 0, 0.5, 1]],
]);
const SHADES: ReadonlyMap<string, number> = new Map([
  ['░', 0.25],
  ['▒', 0.5],
  ['▓', 0.75],
]);
/** Bits of the eight dots, by column and row (Unicode block Braille Patterns, from memory). */
const DOTS = [
  [0, 1, 2, 6],
  [3, 4, 5, 7],
] as const;

function shape(text: string, x: number, y: number, ink: string): string | undefined {
  const block = BLOCKS.get(text);
  if (block) {
    const [left, top, wide, tall] = block;
    return rect(x + left * CELL.width, y + top * CELL.height, wide * CELL.width, tall * CELL.height, ink);
  }
  const shade = SHADES.get(text);
  if (shade !== undefined)
    return `<rect x="${x}" y="${y}" width="${CELL.width}" height="${CELL.height}" fill="${ink}" opacity="${shade}"/>`;
  const code = text.codePointAt(0) ?? 0;
  if (code >= 0x2800 && code <= 0x28ff) return brailleDots(code - 0x2800, x, y, ink);
  if (text === '─') return rect(x, y + CELL.height / 2 - 0.5, CELL.width, 1, ink);
  return undefined;
}

function brailleDots(pattern: number, x: number, y: number, ink: string): string {
  const dots = DOTS.flatMap((bits, column) =>
    bits.flatMap((bit, row) =>
      pattern & (1 << bit)
        ? [
            `<circle cx="${x + (column + 0.5) * (CELL.width / 2)}" cy="${y + (row + 0.5) * (CELL.height / 4)}" r="1.5" fill="${ink}"/>`,
          ]
        : [],
    ),
  );
  return dots.join('');
}

function drawnCell(cell: Cell, x: number, y: number): string {
  const { ink, ground, bold, faint, underlined } = paintOf(cell.style);
  const wide = CELL.width * Math.max(1, cell.width);
  const back = ground ? rect(x, y, wide, CELL.height, ground) : '';
  const line = underlined ? rect(x, y + CELL.height - 3, wide, 1, ink) : '';
  if (cell.text === '' || cell.text === ' ') return back + line;
  const drawn = shape(cell.text, x, y, ink);
  const weight = bold ? ' font-weight="bold"' : '';
  const opacity = faint ? ' opacity="0.6"' : '';
  return `${back}${drawn ?? `<text x="${x}" y="${y + 13.5}" fill="${ink}"${weight}${opacity}>${escaped(cell.text)}</text>`}${line}`;
}

/** The screen as an SVG of its own, to scale, in a monospace font where letters are needed. */
export function toSvg(cells: readonly (readonly Cell[])[]): string {
  const columns = cells[0]?.length ?? 0;
  const width = columns * CELL.width + 2 * MARGIN;
  const height = cells.length * CELL.height + 2 * MARGIN;
  const body = cells.flatMap((row, at) =>
    row.map((cell, column) => drawnCell(cell, MARGIN + column * CELL.width, MARGIN + at * CELL.height)),
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" font-family="DejaVu Sans Mono, Menlo, Consolas, monospace" font-size="14.5">`,
    `<rect width="${width}" height="${height}" rx="8" fill="${GROUND}"/>`,
    ...body.filter((part) => part !== ''),
    '</svg>',
    '',
  ].join('\n');
}

/** The same as a PNG, drawn by resvg with the fonts of the machine. */
export async function toPng(cells: readonly (readonly Cell[])[]): Promise<Uint8Array> {
  const { Resvg } = await import('@resvg/resvg-js');
  const drawn = new Resvg(toSvg(cells), {
    font: { loadSystemFonts: true, monospaceFamily: 'DejaVu Sans Mono' },
  });
  return drawn.render().asPng();
}
