// The frame writer against a real terminal emulator: whatever was shown before, the terminal ends with the last picture.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Picture, pictureOf, type Row, STYLES } from '../../src/screen/picture.ts';
import { clusters } from '../../src/screen/text.ts';
import { themeOf } from '../../src/screen/theme.ts';
import { FrameWriter } from '../../src/screen/writer.ts';
import { type Cell, Emulator } from '../support/terminal-screen.ts';

const theme = themeOf('256');

/** The picture drawn the plain way: the terminal cleared, every run written from its row's start. */
async function drawnPlainly(picture: Picture): Promise<Cell[][]> {
  const emulator = new Emulator(picture.width, picture.height);
  const drawn = picture.rows.map(
    (row, at) => `\x1b[${at + 1};1H${row.map(({ text, style }) => theme(style) + text).join('')}`,
  );
  await emulator.write(drawn.join(''));
  return emulator.cells();
}
const comparable = (cells: Cell[][]): string[][] =>
  cells.map((row) => row.map(({ text, style }) => `${text === ' ' ? '' : text}|${style}`));

const anyText = fc.oneof(
  fc.string({ unit: fc.constantFrom(...'abc 12. ─█▀⣿é'), maxLength: 14 }),
  fc.string({ unit: fc.constantFrom('木', '箱', ' ', 'x', 'ö', 'q\u0323'), maxLength: 8 }),
);
const anyRow: fc.Arbitrary<Row> = fc.array(fc.record({ text: anyText, style: fc.constantFrom(...STYLES) }), {
  maxLength: 4,
});
const anyPicture = (width: number, height: number): fc.Arbitrary<Picture> =>
  fc
    .tuple(
      fc.array(anyRow, { maxLength: height + 1 }),
      fc.option(fc.record({ row: fc.nat(height - 1), column: fc.nat(width - 1) }), { nil: undefined }),
    )
    .map(([rows, cursor]) => pictureOf(rows, width, height, cursor));
const sizes = fc.record({ width: fc.integer({ min: 1, max: 24 }), height: fc.integer({ min: 1, max: 5 }) });
const anySession = fc
  .array(sizes, { minLength: 1, maxLength: 3 })
  .chain((list) =>
    fc.tuple(
      ...list.map(({ width, height }) => fc.array(anyPicture(width, height), { minLength: 1, maxLength: 4 })),
    ),
  );

test('after any pictures and resizes the terminal shows exactly the last picture', async () => {
  await fc.assert(
    fc.asyncProperty(anySession, async (session) => {
      const writer = new FrameWriter(theme);
      const emulator = new Emulator(24, 5);
      // As the program does: the second screen, which terminals do not re-wrap when they are resized.
      await emulator.write('\x1b[?1049h');
      for (const picture of session.flat()) {
        const { cols, rows } = emulator.terminal;
        if (cols !== picture.width || rows !== picture.height) emulator.resize(picture.width, picture.height);
        await emulator.write(writer.frame(picture));
        expect(comparable(emulator.cells())).toEqual(comparable(await drawnPlainly(picture)));
        if (picture.cursor) expect(emulator.cursor).toEqual(picture.cursor);
      }
    }),
    { numRuns: 80 },
  );
});

test('a picture that is shown already writes nothing', () => {
  const writer = new FrameWriter(theme);
  const picture = pictureOf([[{ text: 'bore size', style: 'title' }]], 20, 3, { row: 1, column: 4 });
  expect(writer.frame(picture)).not.toBe('');
  expect(writer.frame(picture)).toBe('');
});

test('a changed digit writes that digit and little else', () => {
  const writer = new FrameWriter(theme);
  const shows = (text: string): Picture => pictureOf([[{ text, style: 'plain' }]], 80, 24);
  writer.frame(shows('diameter 42.31 mm'));
  expect(writer.frame(shows('diameter 42.32 mm'))).toBe('\x1b[1;14H2');
});

test('after forgetting, everything is written again', async () => {
  const writer = new FrameWriter(theme);
  const picture = pictureOf([[{ text: 'spigot', style: 'plain' }]], 10, 2);
  const emulator = new Emulator(10, 2);
  await emulator.write(writer.frame(picture));
  await emulator.write('\x1b[1;1Hscribbled over');
  writer.forget();
  await emulator.write(writer.frame(picture));
  expect(emulator.screen()).toEqual(['spigot    ', '          ']);
});

test('every cluster of a text has a width of one or two', () => {
  fc.assert(
    fc.property(anyText, (text) => [...clusters(text)].every(({ width }) => width === 1 || width === 2)),
  );
});
