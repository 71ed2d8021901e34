// Whatever comes in from outside: nothing throws, no number is NaN, and no reading appears that nobody sent. At depth by `npm run fuzz`.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  parseAngle,
  parseCount,
  parseHumidity,
  parseLength,
  parseMoisture,
  parsePitch,
  parsePositiveLength,
  parseTemperature,
  refusal,
} from '../../src/core/quantity.ts';
import { forScreen } from '../../src/core/safe-text.ts';
import { readKit } from '../../src/kit/kit.ts';
import { kitTroubleText } from '../../src/kit/trouble.ts';
import { lineOf, plainRowsOf } from '../../src/records/codec/row.ts';
import { homeOf } from '../../src/records/home.ts';
import { TraceReader } from '../../src/wire/trace.ts';
import { Watch } from '../../src/wire/watch.ts';
import { fuzzDecoder, readingIn } from '../bench/fuzz/decoder.ts';
import { everyFact } from '../bench/records/hostile.ts';
import { freshFolder } from '../support/fresh-folder.ts';
import { exportedText, freshHome, importText, must, opened } from '../support/records-home.ts';

const RUNS = Number(process.env.LIDWRIGHT_FUZZ_RUNS ?? 150);

/** Text of every kind: any code unit, plain ASCII, and pieces that mean something to what reads it, put together anyhow. */
const textOf = (...pieces: readonly string[]): fc.Arbitrary<string> =>
  fc.oneof(
    fc.string({ unit: 'binary', maxLength: 120 }),
    fc.string({ unit: 'binary-ascii', maxLength: 120 }),
    fc
      .array(fc.oneof(fc.constantFrom(...pieces), fc.string({ maxLength: 3 })), { maxLength: 14 })
      .map((all) => all.join('')),
  );

test('sixty thousand wrong lines: every one counted or right by its own checksum, none a reading that nobody sent', () => {
  const { tried, examples } = fuzzDecoder(60_000, 7);
  expect(examples).toEqual([]);
  for (const { name, certain, lines, discarded, right, wrong } of tried) {
    expect({ name, wrong }).toEqual({ name, wrong: 0 });
    if (certain) expect({ name, right }).toEqual({ name, right: 0 });
    expect(lines).toBe(5000);
    expect(discarded).toBeGreaterThan(lines * 0.9);
  }
});

test('a trace of anything gives only readings that stand in it, whole and right', () => {
  const lines = ['DI,1,120,52.34,mm*E493', 'DI,2,245,-0.01,mm*4E31', '52.34'];
  const row = textOf('0\t', '120\t', ...lines, '\\x1B', '#', '\n', '\r\n', '*');
  fc.assert(
    fc.property(fc.array(row, { maxLength: 6 }), (rows) => {
      const reader = new TraceReader();
      const watch = new Watch();
      for (const row of rows.join('\n').split('\n')) {
        const found = reader.read(row);
        expect(found === undefined).toBe(row === '' || row.startsWith('#'));
        if (found === undefined || 'why' in found) continue;
        watch.push(found.line, found.at, (event) => {
          if (event.kind !== 'reading-received') return;
          expect(Number.isFinite(event.reading.value)).toBe(true);
          if (event.checked) expect(readingIn(event.raw)?.text).toBe(event.reading.text);
          else expect(event.raw).toMatch(/^ *[+-]?\d{1,5}(\.\d{1,5})? *(mm|in|")? *$/i);
        });
      }
    }),
    { numRuns: RUNS },
  );
});

const PARSERS = {
  parseLength: (text: string) => parseLength(text, 'mm'),
  parsePositiveLength: (text: string) => parsePositiveLength(text),
  parsePitch,
  parseAngle,
  parseTemperature,
  parseHumidity,
  parseMoisture,
  parseCount: (text: string) => parseCount(text, 1, 999),
};

test('a quantity typed anyhow is a finite number or a refusal that can be shown', () => {
  const digits = fc.integer({ min: 1, max: 400 }).map((count) => '9'.repeat(count));
  const tiny = fc.integer({ min: 1, max: 400 }).map((count) => `0.${'0'.repeat(count)}1`);
  const pieces = '1 16 . , - + / 1/2 0 mm in " tpi deg ° rad % C F e9 Infinity NaN 0x1f'.split(' ');
  const units = ['', 'mm', 'in', '/1in', '/7"', 'tpi', 'deg', 'rad', 'C', 'F', '%'];
  const typed = fc.oneof(
    textOf(...pieces, ' '),
    fc.tuple(fc.oneof(digits, tiny), fc.constantFrom(...units)).map((parts) => parts.join('')),
  );
  fc.assert(
    fc.property(typed, fc.constantFrom(...Object.entries(PARSERS)), (text, [name, parse]) => {
      const parsed = parse(text);
      if (!parsed.ok) return void expect(refusal(name, parsed)).toMatch(/^[^\p{C}]*$/u);
      const { value } = parsed;
      const number = typeof value === 'object' ? value.length : value;
      expect(Number.isFinite(number)).toBe(true);
      if (typeof value === 'object') expect(number).toBeGreaterThan(0);
    }),
    { numRuns: RUNS * 20 },
  );
});

const KEYS = [
  ...['name', 'unit', 'tip', 'angle', 'diameter', 'per-detent', 'lost-detents', 'limit-of-error'],
  ...['port', 'baud', 'wanted', 'bell'],
];
const VALUES = [
  ...['"mm"', '"50mm"', '"1e999mm"', '60', '-1', 'true', 'nan', 'inf', '[]', '["a"]', '{}', '1979-05-27'],
  ...['"\\u001b[2J"', '"../../x"', "'''", '"""', '9'.repeat(400)],
];

test('a kit or settings file of anything leaves a kit that works, and troubles that can be shown', () => {
  const folder = freshFolder();
  const home = homeOf({}, folder);
  for (const kind of ['calipers', 'cutters', 'feeds'])
    mkdirSync(join(folder, 'kit', kind), { recursive: true });
  const line = fc.oneof(
    fc.tuple(fc.constantFrom(...KEYS), fc.constantFrom(...VALUES)).map(([key, value]) => `${key} = ${value}`),
    textOf('[', ']', '=', '"', '#', 'name', '\n', '{', '}', '.'),
  );
  const file = fc.array(line, { maxLength: 8 }).map((lines) => lines.join('\n'));
  const places = ['settings.toml', 'kit/calipers/a.toml', 'kit/cutters/a.toml', 'kit/feeds/a.toml'];
  fc.assert(
    fc.property(fc.tuple(file, file, file, file), (files) => {
      for (const [at, place] of places.entries()) writeFileSync(join(folder, place), files[at] ?? '');
      const { kit, troubles } = readKit(home, { env: {} });
      expect(kit.calipers.length).toBeGreaterThan(0);
      expect(kit.cutters.length).toBeGreaterThan(0);
      const odd = JSON.stringify(kit, (_, value) =>
        typeof value === 'number' && !Number.isFinite(value) ? 'odd' : value,
      );
      expect(odd).not.toContain('"odd"');
      for (const trouble of troubles) expect(forScreen(kitTroubleText(trouble), 400)).not.toMatch(/\p{Cc}/u);
    }),
    { numRuns: RUNS },
  );
});

test('any import is read or refused line by line, keeps the old entries, and can be exported and read again', async () => {
  const records = opened(freshHome());
  must(records.append({ id: 'e', job: 'kept', at: 1, fact: { kind: 'note-added', text: '' }, readings: [] }));
  const [header = '', kept = ''] = exportedText(records).split('\n');
  const value = fc.oneof(
    fc.jsonValue({ maxDepth: 2 }),
    fc.constantFrom('job-begun', 'bore-taken', 'entry', 'reading', 'job', 0, -1, 1e308, '../x', '\u001b[2J'),
  );
  const rows = everyFact(1).flatMap((entry, at) => plainRowsOf(entry, at + 1));
  const keys = rows.flatMap((row) => Object.keys(row));
  const spoilt = fc
    .tuple(fc.constantFrom(...rows), fc.constantFrom(...keys, 'later'), value)
    .map(([row, key, value]) => lineOf({ ...row, [key]: value }));
  const line = fc.oneof(spoilt, textOf('{', '}', '"', '"row":', '"entry"', ',', '\n'), fc.constant(header));
  await fc.assert(
    fc.asyncProperty(fc.array(line, { maxLength: 10 }), async (lines) => {
      const report = await importText(records, `${header}\n${lines.join('\n')}\n`);
      expect(report.refused).toBeGreaterThanOrEqual(report.firstRefused.length);
      for (const { reason } of report.firstRefused) expect(reason).not.toBe('');
      const text = exportedText(records);
      expect(text).toContain(`\n${kept}\n`);
      const again = await importText(records, text);
      expect(again).toMatchObject({ refused: 0, entries: { added: 0 }, readings: { added: 0 } });
    }),
    { numRuns: Math.ceil(RUNS / 3) },
  );
  expect(exportedText(records).split('\n').length).toBeGreaterThan(5);
});
