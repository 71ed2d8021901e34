// Exports and imports: what a bad row comes to, what a newer program's rows come to, and cells that run nothing.
import { expect, test } from 'vitest';
import { KNOWN_FACTS } from '../../src/records/codec/fact.ts';
import { lineOf } from '../../src/records/codec/row.ts';
import { exportReadings, textCell } from '../../src/records/export.ts';
import { linesOf } from '../../src/records/import.ts';
import { everyFact } from '../bench/records/hostile.ts';
import { idFrom, sampleJob, setupNamed } from '../bench/records/sample.ts';
import { exportedText, freshHome, importText, inPieces, must, opened } from '../support/records-home.ts';

/** The export of some made-up jobs, line by line. */
function exportOfJobs(...seeds: readonly number[]): readonly string[] {
  const records = opened(freshHome());
  for (const seed of seeds) must(records.appendAll(sampleJob(seed, 4)));
  return exportedText(records).trimEnd().split('\n');
}

const textOf = (lines: readonly string[]): string => `${lines.join('\n')}\n`;

test('bad rows are refused by line, and the rest is kept', async () => {
  const lines = [...exportOfJobs(1)];
  const reading = lines.findIndex((line) => line.includes('"row":"reading"'));
  lines[reading] = (lines[reading] ?? '').replace(/"valueMm":[\d.]+/, '"valueMm":"wide"');
  lines.splice(3, 0, 'no row at all', '{"row":"entry","id":"x y"}', '[1,2]', '{"row":"wall"}', '');
  const records = opened(freshHome());
  const report = await importText(records, textOf(lines));
  const because = (line: number, reason: string) => ({ line, reason: expect.stringContaining(reason) });
  expect(report.firstRefused).toEqual([
    because(4, "isn't a JSON object"),
    because(5, 'id: not an id'),
    because(6, "isn't a JSON object"),
    because(7, 'unknown kind of row'),
    because(reading + 6, 'valueMm: not a number'),
  ]);
  expect(report).toMatchObject({ entries: { added: 10 }, readings: { added: 3 }, refused: 5, stopped: null });
});

test.each([
  ['"perDetentMm":0.2', '"perDetentMm":0', 'setup.feed.perDetentMm'],
  ['"lostDetents":2', '"lostDetents":-1', 'setup.feed.lostDetents'],
  ['"starts":1', '"starts":0', 'setup.starts'],
])(
  'a job that cannot be counted with is refused, whatever wrote it: %s as %s',
  async (sound, spoilt, where) => {
    const text = textOf(exportOfJobs(1)).replace(sound, spoilt);
    const report = await importText(opened(freshHome()), text);
    expect(report.firstRefused[0]?.reason).toContain(where);
    expect(report.jobsWithoutBeginning).toBe(1);
  },
);

test.each([
  ['{"row":"header","format":"lidwright-jobs","v":2}', 'version 2'],
  ['{"row":"header","format":"recipes","v":1}', "isn't a jobs export"],
  ['name,price', "doesn't start with the header"],
])('a file that begins with %s is not read at all', async (first, why) => {
  const records = opened(freshHome());
  const report = await importText(records, textOf([first, ...exportOfJobs(1).slice(1)]));
  expect(report).toMatchObject({ stopped: expect.stringContaining(why), entries: { added: 0 } });
  expect(must(records.list()).total).toBe(0);
});

test('exports in one file, one after the other, are all read, up to one of a later version', async () => {
  const [one, other] = [exportOfJobs(1), exportOfJobs(2)];
  const later = '{"row":"header","format":"lidwright-jobs","v":2}';
  const records = opened(freshHome());
  const report = await importText(records, textOf([...one, ...other, later, ...exportOfJobs(3).slice(1)]));
  const stopped = expect.stringContaining('version 2');
  expect(report).toMatchObject({ entries: { added: 20 }, refused: 1, stopped });
  expect(must(records.list()).total).toBe(2);
});

test('rows of a newer program are kept, not used, and exported again unchanged', async () => {
  const lines = [...exportOfJobs(4)];
  const job = idFrom(4, 0);
  const fact = { kind: 'finish-rubbed', coats: 2, withThe: { cloth: true } };
  lines.push(lineOf({ row: 'entry', id: 'later-1', job, n: 11, atMs: 5, readings: 0, fact }));
  lines[1] = (lines[1] ?? '')
    .replace('"starts":1', '"starts":1,"handed":"left"')
    .replace(/}$/, ',"mood":"calm"}');
  const records = opened(freshHome());
  const report = await importText(records, textOf(lines));
  expect(report).toMatchObject({ refused: 0, entries: { added: 11 } });
  expect(exportedText(records)).toBe(textOf(lines));
  const log = must(records.logOf(job));
  expect(log.entries).toHaveLength(10);
  expect(log.leftOut.map(({ row }) => row.kind)).toEqual(['finish-rubbed']);
  expect(must(records.find(job))[0]).toMatchObject({ trials: 1, name: 'Box 4' });
});

test('a row that contradicts an existing one is refused, and the existing one stays', async () => {
  const lines = exportOfJobs(5);
  const records = opened(freshHome());
  await importText(records, textOf(lines));
  const before = exportedText(records);
  const changed = lines.map((line) =>
    line.replace('Waxed', 'Unwaxed').replace('"n":1,"text":"', '"n":1,"text":"9'),
  );
  const report = await importText(records, textOf(changed));
  expect(report.entries).toEqual({ added: 0, known: 9 });
  const reasons = report.firstRefused.map(({ reason }) => reason.replace(/[0-9a-f-]{36}/, 'X'));
  expect(reasons).toEqual(
    ['reading 1 of entry X', 'reading 1 of entry X', 'entry X'].map(
      (what) => `${what} already exists with different contents; kept the existing one`,
    ),
  );
  expect(exportedText(records)).toBe(before);
});

test('a job without its beginning is kept, and listed once the beginning comes', async () => {
  const [header = '', beginning = '', ...rest] = exportOfJobs(6);
  const records = opened(freshHome());
  const report = await importText(records, textOf([header, ...rest]));
  expect(report).toMatchObject({ jobsWithoutBeginning: 1, refused: 0 });
  expect(must(records.list()).total).toBe(0);
  await importText(records, textOf([header, beginning]));
  expect(must(records.list()).jobs.map(({ name, trials }) => [name, trials])).toEqual([['Box 6', 1]]);
});

test('an imported open job is resumed only where this bench has written no job', async () => {
  const lines = exportOfJobs(10);
  const records = opened(freshHome());
  await importText(records, textOf(lines));
  expect(must(records.latestOpenJob())?.name).toBe('Box 10');
  must(records.appendAll(sampleJob(3, 1)));
  expect(must(records.latestOpenJob())).toBeUndefined();
});

test('lines come whole from any pieces, and one without end is dropped and counted', async () => {
  const text = `short\r\n${'x'.repeat(60)}\nµ ⅛ 木\n\nlast`;
  for (const size of [1, 2, 3, 7, 1000]) {
    const lines: (string | null)[] = [];
    for await (const some of linesOf(inPieces(text, size), 50)) lines.push(...some.map((line) => line.text));
    expect(lines).toEqual(['short', null, 'µ ⅛ 木', '', 'last']);
  }
});

test.each([
  ['=1+1', "'=1+1"],
  ['+cmd', "'+cmd"],
  ['-2+3', "'-2+3"],
  ['@SUM', "'@SUM"],
  ['\tx', "'\\u0009x"],
  ['\rx', "'\\u000dx"],
  ['-0.01', '-0.01'],
  ['+52.34', '+52.34'],
  ['a "quoted", cell', 'a ""quoted"", cell'],
])('the cell %j starts no formula in a spreadsheet, and a number stays one', (text, cell) => {
  expect(textCell(text)).toBe(`"${cell}"`);
});

test('a name cannot break out of its cell, and nothing in an export moves a cursor', async () => {
  const records = opened(freshHome());
  const name = '=HYPERLINK("x")\r\n"\u001b]0;\u009b2J\u202e';
  const [begun, ...rest] = sampleJob(8, 2);
  if (!begun) throw new Error('a sample job has a beginning');
  must(records.appendAll([{ ...begun, fact: { kind: 'job-begun', setup: setupNamed(name) } }, ...rest]));
  const rows: string[] = [];
  must(exportReadings(records, (row) => rows.push(row)));
  expect(rows).toHaveLength(3);
  expect(rows[1]).toContain(`"'=HYPERLINK(""x"")\\u000d\\u000a""\\u001b]0;\\u009b2J\\u202e"`);
  const text = exportedText(records);
  expect(text.replaceAll('\n', '')).toMatch(/^[^\p{Cc}\u202e]*$/u);
  const other = opened(freshHome());
  await importText(other, text);
  expect(must(other.list()).jobs[0]?.name).toBe(name);
});

test('the job that kills and hostile imports use has an entry of every kind', () => {
  expect(new Set(everyFact(1).map(({ fact }) => fact.kind))).toEqual(KNOWN_FACTS);
});
