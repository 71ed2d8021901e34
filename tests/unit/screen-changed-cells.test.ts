// The stdout that Ink is given, against a real terminal emulator: whatever was shown before, the terminal ends with the last frame.
import { EventEmitter } from 'node:events';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ChangedCells } from '../../src/screen/changed-cells.ts';
import { type StyledRow, safe, textWidth } from '../../src/screen/text.ts';
import { STYLES, themeOf } from '../../src/screen/theme.ts';
import { type Cell, Emulator, TABLES } from '../support/terminal-screen.ts';

const theme = themeOf('256');

/** A terminal that remembers what is written to it since it was last asked. */
class Output extends EventEmitter {
  columns = 24;
  rows = 5;
  #written = '';
  write(text: string): boolean {
    this.#written += text;
    return true;
  }
  taken(): string {
    const taken = this.#written;
    this.#written = '';
    return taken;
  }
}

interface Frame {
  readonly rows: readonly StyledRow[];
  readonly columns: number;
  readonly height: number;
}

const line = (row: StyledRow): string => row.map(({ text, style }) => theme(style) + text).join('');

/** The frame drawn the plain way: the terminal cleared, every row written from its start. */
async function drawnPlainly({ rows, columns, height }: Frame): Promise<Cell[][]> {
  const emulator = new Emulator(columns, height);
  // Without wrapping, what is too long for a row is cut off.
  const drawn = rows.slice(0, height).map((row, at) => `\x1b[${at + 1};1H${line(row)}`);
  await emulator.write(`\x1b[?7l${drawn.join('')}`);
  return emulator.cells();
}
const comparable = (cells: Cell[][]): string[][] =>
  cells.map((row) => row.map(({ text, style }) => `${text === ' ' ? '' : text}|${style}`));

const anyText = fc.oneof(
  fc.string({ unit: fc.constantFrom(...'abc 12. ─█▀⣿é'), maxLength: 14 }),
  fc.string({ unit: fc.constantFrom('木', '箱', ' ', 'x', 'ö', 'q\u0323'), maxLength: 8 }),
);
const visible = STYLES.filter((style) => style !== 'cursor');
const anyRow = (columns: number): fc.Arbitrary<StyledRow> =>
  fc
    .array(fc.record({ text: anyText, style: fc.constantFrom(...visible) }), { maxLength: 4 })
    .filter((row) => row.reduce((sum, { text }) => sum + textWidth(text), 0) <= columns);
const anyFrames = fc
  .record({ columns: fc.integer({ min: 1, max: 24 }), height: fc.integer({ min: 1, max: 5 }) })
  .chain(({ columns, height }) =>
    fc.array(
      fc.array(anyRow(columns), { maxLength: height + 1 }).map((rows): Frame => ({ rows, columns, height })),
      { minLength: 1, maxLength: 4 },
    ),
  );

test('after any frames and resizes the terminal shows exactly the last frame', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(anyFrames, { minLength: 1, maxLength: 3 }), async (session) => {
      const output = new Output();
      const cells = new ChangedCells(output);
      const emulator = new Emulator(24, 5);
      // As the program does: the second screen, which terminals do not re-wrap when they are resized.
      await emulator.write('\x1b[?1049h');
      for (const frame of session.flat()) {
        if (output.columns !== frame.columns || output.rows !== frame.height) cells.forget();
        output.columns = frame.columns;
        output.rows = frame.height;
        emulator.resize(frame.columns, frame.height);
        cells.write(`${frame.rows.map(line).join('\n')}\x1b[0m`);
        await emulator.write(output.taken());
        expect(comparable(emulator.cells())).toEqual(comparable(await drawnPlainly(frame)));
      }
    }),
    { numRuns: 80 },
  );
});

function opened(columns = 80) {
  const output = new Output();
  output.columns = columns;
  const cells = new ChangedCells(output);
  return {
    cells,
    wrote(frame: string): string {
      cells.write(frame);
      return output.taken();
    },
  };
}

test('a frame that is shown already writes nothing', () => {
  const { wrote } = opened();
  expect(wrote('bore size')).not.toBe('');
  expect(wrote('bore size')).toBe('');
});

test('a changed digit writes that digit and little else', () => {
  const { wrote } = opened();
  wrote('diameter 42.31 mm');
  expect(wrote('diameter 42.32 mm')).toBe('\x1b[1;14H2');
});

test('a style is the same however its sequences were put together', () => {
  const { wrote } = opened();
  wrote('\x1b[0;1;38;5;34mAT SIZE\x1b[0m');
  expect(wrote('\x1b[1m\x1b[38;5;34mAT SIZE\x1b[22m\x1b[39m')).toBe('');
  expect(wrote('\x1b[38;5;34m\x1b[1mAT SIZE\x1b[39m\x1b[22m')).toBe('');
});

test('a line that is too long for the terminal loses its end, and no half of a wide letter stays', async () => {
  const { wrote } = opened(5);
  const emulator = new Emulator(5, 5);
  await emulator.write(wrote('pear box\nab木の箱'));
  expect(emulator.screen().slice(0, 2)).toEqual(['pear ', 'ab木 ']);
});

test('the cursor is where a frame marks it, and hidden where none does', async () => {
  const { wrote } = opened();
  const emulator = new Emulator(80, 5);
  const typed = `name\n typed: 42.3${theme('cursor')} \x1b[0m`;
  const bytes = wrote(typed);
  expect(bytes).toContain('\x1b[?25h');
  await emulator.write(bytes);
  expect(emulator.cursor).toEqual({ row: 1, column: 12 });
  expect(emulator.cells()[1]?.[12]?.style).toBe('');
  await emulator.write(wrote(typed.replace('name', 'NAME')));
  expect(emulator.cursor).toEqual({ row: 1, column: 12 });
  expect(wrote('name')).toContain('\x1b[?25l');
});

test('after forgetting, everything is written again', async () => {
  const { cells, wrote } = opened(10);
  const emulator = new Emulator(10, 5);
  await emulator.write(wrote('spigot'));
  await emulator.write('\x1b[1;1Hscribbled\x1b[3;1Hover');
  cells.forget();
  await emulator.write(wrote('spigot'));
  expect(emulator.screen()[0]).toBe('spigot    ');
  expect(emulator.screen().slice(1).join('').trim()).toBe('');
});

describe.each(Object.entries(TABLES))('where the terminal has %s tables', (_, widths) => {
  test('text after any kind of text lands in the computed column', async () => {
    await fc.assert(
      fc.asyncProperty(fc.string({ unit: 'binary', maxLength: 12 }), async (given) => {
        const { wrote } = opened();
        const emulator = new Emulator(80, 5, widths);
        const name = safe(given);
        await emulator.write(wrote(`before\n ${name}`));
        await emulator.write(wrote(`before\n ${name}|at its place`));
        const after = emulator.cells()[1]?.slice(1 + textWidth(name));
        expect(after?.map(({ text }) => text).join('')).toBe('|at its place');
        expect(emulator.screen()[0]?.trimEnd()).toBe('before');
        expect(emulator.screen().slice(2).join('').trim()).toBe('');
      }),
      { numRuns: 60 },
    );
  });

  test.each(['กล่องน้ำผึ้ง', 'नाशपाती', 'box 📦', 'ｶﾞ', '\u1100\u1161\u11ff', '\u{1f468}\u{1f3fd}'])(
    'what follows %s stands where it was worked out',
    async (name) => {
      const emulator = new Emulator(80, 5, widths);
      await emulator.write(opened().wrote(`${safe(name)}|`));
      expect(emulator.cells()[0]?.[textWidth(safe(name))]?.text).toBe('|');
    },
  );
});
