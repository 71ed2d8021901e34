// Pictures of the screen as a turner sees it: rows with their right edge, and the styles of what must stand out.
import { expect, test } from 'vitest';
import type { Bench } from '../../src/core/bench/state.ts';
import { millis } from '../../src/core/units.ts';
import { drawnWord } from '../../src/screen/digits.ts';
import type { Glyphs } from '../../src/screen/glyphs.ts';
import { numberRows } from '../../src/screen/panels/number.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { plainText, rowWidth, type Style } from '../../src/screen/text.ts';
import { GALLERY } from '../support/gallery.tsx';
import { type Shown, shown as view } from '../support/shown.tsx';

const SIZES = [
  { columns: 60, rows: 16 },
  { columns: 80, rows: 24 },
  { columns: 120, rows: 40 },
  { columns: 200, rows: 60 },
] as const;

const made = new Map<string, Bench>();
/** A moment of the gallery; each is made once. */
function bench(moment: string): Bench {
  const known = made.get(moment) ?? GALLERY[moment]?.();
  if (!known) throw new Error(`the gallery has no ${moment}`);
  made.set(moment, known);
  return known;
}
const at = (moment: string, columns: number, rows: number): Shown => view(bench(moment), { columns, rows });
const at80 = (of: Bench): Shown => view(of, { columns: 80, rows: 24 });
/** Rows with their right edge drawn, so that a picture that is too narrow or too wide shows. */
const shown = ({ rows }: Shown): string[] => rows.map((row) => `${plainText(row)}|`);
const textOf = (picture: Shown): string => picture.rows.map(plainText).join('\n');
/** The text of every run in a style, in order. */
const inStyle = ({ rows }: Shown, style: Style): string[] =>
  rows.flatMap((row) =>
    row.filter((run) => run.style === style && run.text.trim() !== '').map((run) => run.text.trim()),
  );
/** The same without what is drawn from blocks. */
const written = (picture: Shown, style: Style): string[] =>
  inStyle(picture, style).filter((text) => /[^ ▀-▟]/.test(text));

/** Whole screens, in pictures/. After a change that is meant: `npx vitest run --config tests/vitest.config.ts tests/screen/pictures -u`, then read them. */
test.each([
  ['welcome', 80, 24],
  ['form-wood', 60, 16],
  ['jobs', 80, 24],
  ['bore-thread-void', 80, 24],
  ['bore-size-agreed', 80, 24],
  ['spigot-near', 60, 16],
  ['spigot-at', 120, 40],
  ['spigot-thread', 120, 40],
  ['trial-tight', 80, 24],
  ['record', 80, 24],
  ['help-bore-size', 60, 16],
] as const)('%s at %ix%i', async (moment, columns, rows) => {
  await expect(`${shown(at(moment, columns, rows)).join('\n')}\n`).toMatchFileSnapshot(
    `pictures/${moment}-${columns}x${rows}.txt`,
  );
});

test('everything that must stand out has its own style', () => {
  const steady = at('bore-size-agreed', 80, 24);
  expect(inStyle(steady, 'peak')).toEqual(['▼', '▼', '▼', '▼']);
  expect(written(steady, 'at')).toEqual(['● STEADY']);
  expect(inStyle(steady, 'here')).toEqual(['bore size']);
  expect(inStyle(at('spigot-near', 60, 16), 'near')).toContain('◐ NEAR');
  expect(written(at('bore-thread-void', 80, 24), 'bad')).toEqual(['× DEPTH VOID']);
});

/** What is wrong with a moment at a size, in words; nothing where all is well. */
function faultsOf(moment: string, columns: number, rows: number, glyphs: Glyphs): string[] {
  const { rows: drawn } = view(bench(moment), { columns, rows }, glyphs);
  const fault = (what: string): string => `${moment} at ${columns}x${rows} in ${glyphs}: ${what}`;
  const text = drawn.map(plainText).join('\n');
  const { big } = sceneOf(bench(moment));
  const isWritten = drawn.flat().some((run) => run.text.trim() === big?.text && run.style === big.style);
  return [
    ...(drawn.length === rows ? [] : [fault(`${drawn.length} rows`)]),
    ...drawn.flatMap((row, at) =>
      rowWidth(row) === columns ? [] : [fault(`row ${at} is ${rowWidth(row)} wide`)],
    ),
    ...(/[^\P{Cc}\n]|NaN|undefined|Infinity/u.test(text) ? [fault('characters that are not text')] : []),
    ...(isWritten && columns >= 60 && rows >= 16 ? [fault('its number is not drawn')] : []),
    ...(glyphs === 'ascii' && /[^\x20-\x7e\n]/.test(text) ? [fault('not ASCII')] : []),
  ];
}

/** What a moment has to say and is not on the screen whole. */
function missingAt(moment: string, columns: number, rows: number): string[] {
  const { big, standing, panel, next, caution, keys } = sceneOf(bench(moment));
  const words = textOf(at(moment, columns, rows)).replace(/[▀-▟\s]+/g, ' ');
  const paragraphs = panel?.kind === 'paragraphs' ? panel.paragraphs : [];
  const wanted = [
    [next],
    [caution ?? ''],
    [big?.label ?? ''],
    [standing ? `${standing.mark} ${standing.word}` : ''],
    [standing?.about ?? ''],
    ...keys.map(({ key, does }) => [`${key} ${does}`, '? help']),
    ...paragraphs.filter(({ kind }) => kind !== 'caution').map(({ text, short }) => [text, short ?? text]),
  ];
  const missing = wanted.filter((ways) => !ways.some((way) => words.includes(way))).map(([what]) => what);
  const cut = moment !== 'jobs' && words.includes('…') ? ['the end of a sentence'] : [];
  return [...missing, ...cut].map((what) => `${moment} at ${columns}x${rows}: ${what}`);
}

const MOMENTS = Object.keys(GALLERY);

test.each([
  ...SIZES.map(({ columns, rows }) => [columns, rows, 'all'] as const),
  [60, 16, 'ascii'],
  [80, 24, 'ascii'],
  // Too small for a bench: filled exactly too.
  [59, 24, 'all'],
  [80, 15, 'all'],
  [30, 8, 'all'],
  [20, 4, 'all'],
  [1, 1, 'all'],
] as const)('every moment fills %ix%i exactly in %s', (columns, rows, glyphs) => {
  expect(MOMENTS.flatMap((moment) => faultsOf(moment, columns, rows, glyphs))).toEqual([]);
});

test.each(SIZES.slice(0, 3))(
  'every moment says all it has to say at $columns x $rows',
  ({ columns, rows }) => {
    expect(MOMENTS.flatMap((moment) => missingAt(moment, columns, rows))).toEqual([]);
  },
);

test.each([
  [59, 24],
  [80, 15],
])('%ix%i says what is too small', (columns, rows) => {
  const complaint = `${columns}x${rows} is too small: 60x16 shows all`;
  expect(textOf(at('welcome', columns, rows))).toContain(complaint);
});

test('the zones of a spigot differ by word and shape, not by colour alone', () => {
  const zones = ['far', 'near', 'at', 'under', 'past'].map((zone) => `spigot-${zone}`);
  const standings = zones.map((moment) => sceneOf(bench(moment)).standing);
  expect(new Set(standings.map((standing) => standing?.word)).size).toBe(5);
  expect(new Set(standings.map((standing) => standing?.mark)).size).toBe(5);
  const bars = zones.map((moment) => shown(at(moment, 80, 24))[17]?.trim()[0]);
  expect(bars).toEqual(['░', '▒', '█', '▓', '×']);
});

test('a reading older than two seconds is stale by word and style, and not before', () => {
  const fresh = bench('bore-size-rocking');
  const heard = fresh.live?.heardAt ?? 0;
  const capture = { ...fresh, capture: null, job: fresh.job && { ...fresh.job, bore: null } };
  const later = (after: number): Shown => at80({ ...capture, now: millis(heard + after) });
  expect(textOf(later(1900))).not.toMatch(/STALE|silent/);
  expect(textOf(later(2100))).toContain('◇ STALE  the last reading is 2 s old');
  expect(textOf(later(2100))).toContain('▲ silent 2 s');
  expect(inStyle(later(2100), 'stale').length).toBeGreaterThan(0);
  expect(inStyle(later(2100), 'value')).toEqual([]);
});

test('the number keeps its size and place when the sentences around it change', () => {
  const rowsOfNumber = (moment: string): number[] =>
    shown(at(moment, 80, 24)).flatMap((row, index) => (/[█▀▄]{3}/.test(row) && index < 12 ? [index] : []));
  const first = rowsOfNumber('spigot-far');
  expect(first).toHaveLength(7);
  for (const moment of ['spigot-near', 'spigot-at', 'spigot-under', 'spigot-past', 'spigot-target'])
    expect(rowsOfNumber(moment)).toEqual(first);
});

/** The drawn word for where things stand, and from which row on it is on the screen, with the rows there as far as they are its. */
function drawnIn(moment: string, columns: number, rows: number) {
  const word = drawnWord(sceneOf(bench(moment)).standing?.word ?? '', 'all').map((row) => row.trimEnd());
  const lines = at(moment, columns, rows).rows.map(plainText);
  const first = lines.findIndex((row) => row.includes(word[0] ?? '?'));
  const column = lines[first]?.indexOf(word[0] ?? '?') ?? 0;
  const width = Math.max(...word.map((row) => row.length));
  const shown = lines.slice(first, first + 3).map((row) => row.slice(column, column + width).trimEnd());
  return { word, shown, first };
}

test('the word for where things stand is drawn at 80x24, three rows tall, in every moment that has a number', () => {
  for (const moment of MOMENTS) {
    const { standing, big } = sceneOf(bench(moment));
    if (!standing || !big || /[A-Z]/.test(big.text)) continue;
    const { word, shown } = drawnIn(moment, 80, 24);
    expect(word, `${moment}: ${standing.word}`).toHaveLength(3);
    expect(shown, moment).toEqual(word);
  }
});

test.each(['zero-open', 'hollow-going', 'hollow-typed', 'spigot-end', 'spigot-no-bore'])(
  'the word of %s, which has no panel, is drawn at 60x16 as well, under a number as large as before',
  (moment) => {
    const { word, shown, first } = drawnIn(moment, 60, 16);
    expect(first).toBe(8);
    expect(shown).toEqual(word);
  },
);

test('the number keeps its size while it comes and goes over a power of ten', () => {
  const height = (text: string, unit: string, columns: number): number =>
    numberRows({ text, unit, label: '', style: 'value' }, columns, 20, 'all').length;
  for (const columns of [60, 80, 89, 120]) {
    expect(height('9.99', 'mm', columns)).toBe(height('10.00', 'mm', columns));
    expect(height('-0.02', 'mm', columns)).toBe(height('0.00', 'mm', columns));
    expect(height('0.0005', 'in', columns)).toBe(height('1.6654', 'in', columns));
    expect(height('9', 'detents', columns)).toBe(height('10', 'detents', columns));
    expect(height('1', 'detent', columns)).toBe(height('2', 'detents', columns));
  }
});

test.each(SIZES)('a drawing keeps its place and scale for a message at $columns x $rows', (size) => {
  for (const moment of ['bore-size-agreed', 'spigot-near', 'bore-thread-cutting', 'spigot-thread']) {
    const drawn = (notice: Bench['notice']): string[] =>
      view({ ...bench(moment), notice }, size).rows.map((row) =>
        row.flatMap(({ text, style }) => (style === 'trace' || style === 'near' ? [text] : [])).join(''),
      );
    const [quiet, told] = [drawn(null), drawn({ kind: 'undone', what: 'note-added' })];
    const lost = quiet.findIndex((row, at) => row !== told[at]);
    const last = quiet.findLastIndex((row) => row !== '');
    // Where the message needs the room, only the last row gives way.
    expect(lost === -1 || lost >= last, `${moment}: row ${lost} of ${last}`).toBe(true);
  }
});

test('a cue flashes its word over the strip, and is gone after a second', () => {
  const flashing = bench('spigot-flash');
  const row = (after: number): string =>
    shown(at80({ ...flashing, now: millis((flashing.cue?.at ?? 0) + after) }))[1] ?? '';
  expect(row(100).trim()).toMatch(/^AT SIZE +\|$/);
  expect(row(1000)).toContain('◆spigot');
});

test('typed text has the cursor behind it', () => {
  const picture = at('bore-size-typed', 80, 24);
  expect(plainText(picture.rows[picture.cursor?.row ?? 0] ?? [])).toMatch(/^ typed: 42\.3 +$/);
  expect(picture.cursor?.column).toBe(12);
});
