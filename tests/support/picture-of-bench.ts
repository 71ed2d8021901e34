// Writes a picture of the real screen as SVG: the built program on its virtual bench, driven to a bore that agrees, or further.
// Blocks and Braille are drawn as shapes, so that no font is needed for them.
// Usage: npx tsx tests/support/picture-of-bench.ts <file.svg> [bore|spigot]
import { writeFileSync } from 'node:fs';
import { freshFolder } from './fresh-folder.ts';
import { Eye } from './terminal.ts';
import type { Cell } from './terminal-screen.ts';

const CELL = { width: 9, height: 18 } as const;
const MARGIN = 12;
const ALT = 'The bench screen of lidwright';
const GROUND = '#14171a';
const INK = '#d8d8d2';

const SIXTEEN = [
  '#2b2f33 #c8553d #5f9e3e #c9952c #4f86b8 #9a6aa8 #3d9c96 #d8d8d2',
  '#6b7075 #e0705a #7cc25a #e6b450 #6fa5d6 #b98ac6 #5cbdb6 #f4f4ef',
].flatMap((colours) => colours.split(' '));

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
const rect = (x: number, y: number, width: number, height: number, fill: string, more = ''): string =>
  `<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="${fill}"${more}/>`;

/** The part of a cell's height that a block element fills (Unicode block Block Elements, from memory). */
const BLOCKS: ReadonlyMap<string, { readonly top: number; readonly tall: number }> = new Map([
  ['█', { top: 0, tall: 1 }],
  ['▀', { top: 0, tall: 0.5 }],
  ['▄', { top: 0.5, tall: 0.5 }],
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

/** Neighbouring cells of a row that look alike: drawn as one. */
interface Stretch {
  readonly column: number;
  readonly cells: readonly Cell[];
  readonly paint: Paint;
}

/** What makes cells one stretch: the style, and for blocks the same block. */
const kindOf = ({ text, style }: Cell): string =>
  `${style}|${BLOCKS.has(text) || SHADES.has(text) ? text : 'text'}`;

function stretchesOf(row: readonly Cell[]): Stretch[] {
  const stretches: { column: number; kind: string; cells: Cell[] }[] = [];
  for (const [column, cell] of row.entries()) {
    const kind = kindOf(cell);
    const last = stretches.at(-1);
    if (last?.kind === kind) last.cells.push(cell);
    else stretches.push({ column, kind, cells: [cell] });
  }
  return stretches.map(({ column, cells }) => ({ column, cells, paint: paintOf(cells[0]?.style ?? '') }));
}

function drawn({ column, cells, paint }: Stretch, y: number): string {
  const x = MARGIN + column * CELL.width;
  const width = cells.length * CELL.width;
  const back = paint.ground ? rect(x, y, width, CELL.height, paint.ground) : '';
  const line = paint.underlined ? rect(x, y + CELL.height - 3, width, 1, paint.ink) : '';
  return back + (block(cells, x, y, width, paint.ink) ?? letters(cells, x, y, paint)) + line;
}

function block(cells: readonly Cell[], x: number, y: number, width: number, ink: string): string | undefined {
  const text = cells[0]?.text ?? '';
  const shade = SHADES.get(text);
  if (shade !== undefined) return rect(x, y, width, CELL.height, ink, ` opacity="${shade}"`);
  const share = BLOCKS.get(text);
  return share && rect(x, y + share.top * CELL.height, width, share.tall * CELL.height, ink);
}

/** Braille and rules as shapes, everything else as text, each character at the place of its cell. */
function letters(cells: readonly Cell[], x: number, y: number, paint: Paint): string {
  const at = (index: number): number => x + index * CELL.width;
  const shapes = cells.map(({ text }, index) => shape(text, at(index), y, paint.ink)).join('');
  const shown = [...cells.entries()].filter(([, { text }]) => text !== '' && text !== ' ' && !isShape(text));
  if (shown.length === 0) return shapes;
  const places = shown.map(([index]) => at(index)).join(' ');
  const weight = paint.bold ? ' font-weight="bold"' : '';
  const opacity = paint.faint ? ' opacity="0.6"' : '';
  const text = escaped(shown.map(([, cell]) => cell.text).join(''));
  return `${shapes}<text x="${places}" y="${y + 13.5}" fill="${paint.ink}"${weight}${opacity}>${text}</text>`;
}

/** Bits of the quarters of a cell: upper left and right, lower left and right (Unicode block Block Elements, from memory). */
const QUARTERS = ' ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█';

const isBraille = (text: string): boolean => /^[\u2800-\u28ff]$/.test(text);
const isShape = (text: string): boolean => isBraille(text) || text === '─' || QUARTERS.indexOf(text) > 0;

function shape(text: string, x: number, y: number, ink: string): string {
  if (isBraille(text)) return brailleDots((text.codePointAt(0) ?? 0x2800) - 0x2800, x, y, ink);
  const quarters = QUARTERS.indexOf(text);
  if (quarters > 0)
    return [0, 1, 2, 3]
      .filter((bit) => quarters & (1 << bit))
      .map((bit) =>
        rect(
          x + (bit % 2) * (CELL.width / 2),
          y + Math.floor(bit / 2) * (CELL.height / 2),
          CELL.width / 2,
          CELL.height / 2,
          ink,
        ),
      )
      .join('');
  return text === '─' ? rect(x, y + CELL.height / 2 - 0.5, CELL.width, 1, ink) : '';
}

/** All dots of a cell as one path of small round strokes. */
function brailleDots(pattern: number, x: number, y: number, ink: string): string {
  const dots = DOTS.flatMap((bits, column) =>
    bits.flatMap((bit, row) => {
      if ((pattern & (1 << bit)) === 0) return [];
      return [`M${x + (column + 0.5) * (CELL.width / 2)} ${y + (row + 0.5) * (CELL.height / 4)}h0`];
    }),
  );
  return `<path d="${dots.join('')}" stroke="${ink}" stroke-width="3" stroke-linecap="round"/>`;
}

/** The screen as one SVG, to scale, in a monospace font where letters are needed. */
function toSvg(cells: readonly (readonly Cell[])[]): string {
  const columns = cells[0]?.length ?? 0;
  const width = columns * CELL.width + 2 * MARGIN;
  const height = cells.length * CELL.height + 2 * MARGIN;
  const body = cells.flatMap((row, at) =>
    stretchesOf(row).map((stretch) => drawn(stretch, MARGIN + at * CELL.height)),
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" font-family="DejaVu Sans Mono, Menlo, Consolas, monospace" font-size="14.5" role="img" aria-label="${ALT}">`,
    `<title>${ALT}</title>`,
    `<rect width="${width}" height="${height}" rx="8" fill="${GROUND}"/>`,
    ...body.filter((part) => part !== ''),
    '</svg>',
    '',
  ].join('\n');
}

const [file, moment = 'bore'] = process.argv.slice(2);
if (!file) throw new Error('give the file to write, such as bench.svg');

const eye = new Eye({ args: ['demo'], env: { LIDWRIGHT_HOME: freshFolder() } });
try {
  await eye.goes(['', 'to begin a job'], ['\r', '◆ new job'], ['Pear box\tpear\x1b[F']);
  // The flash of the cue is over when the strip is back.
  await eye.until('a bore that agrees, and the strip', agreedWithStrip, 60_000);
  if (moment === 'spigot') {
    eye.press('enter');
    await eye.untilShown('KEPT', 60_000);
    eye.press('n');
    await eye.until(
      'near the target',
      (screen) => shows(screen, /NEAR {2}/) && shows(screen, /◆spigot/),
      120_000,
    );
  }
  writeFileSync(file, toSvg(eye.cells()));
} finally {
  await eye.close();
}

function shows(screen: readonly string[], pattern: RegExp): boolean {
  return screen.some((row) => pattern.test(row));
}

function agreedWithStrip(screen: readonly string[]): boolean {
  return shows(screen, /● STEADY/) && shows(screen, /◆bore size/);
}
