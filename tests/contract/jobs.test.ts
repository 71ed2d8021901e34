// `lidwright jobs` from the command line, as typed: lists, shows, changes, exports, imports and counts, with its exit codes.
import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Entry } from '../../src/core/bench/entry.ts';
import { homeOf } from '../../src/records/home.ts';
import { idFrom, sampleJob, setupNamed } from '../bench/records/sample.ts';
import { runLine, type Told } from '../support/command-run.ts';
import { freshFolder } from '../support/fresh-folder.ts';
import { must, opened } from '../support/records-home.ts';

/** A bench with these jobs, and a way to type at it. */
function benchOf(...logs: readonly (readonly Entry[])[]) {
  const folder = freshFolder();
  const records = opened(homeOf({}, folder));
  for (const log of logs) must(records.appendAll(log));
  records.close();
  return { folder, type: (line: string): Promise<Told> => runLine(folder, `jobs ${line}`) };
}
const benchWith = (...seeds: readonly number[]) => benchOf(...seeds.map((seed) => sampleJob(seed, 6)));

/** What is read here of the objects printed with --json. */
interface Printed {
  readonly jobs: readonly { readonly wood: string }[];
  readonly entries: readonly { readonly readings: readonly { readonly text: string }[] }[];
  readonly figures: readonly {
    readonly figure: string;
    readonly formula: string;
    readonly valueMm: number;
    readonly inputs: Readonly<Record<'boreMm' | 'limitMm' | 'wantedMm', number>>;
  }[];
  readonly setups: readonly Readonly<Record<'jobs' | 'biasMm' | 'biasStandardMm', number>>[];
}
const objectIn = (told: Told): Printed => JSON.parse(told.data.join('\n'));

test('an empty home lists no jobs and exits 0', async () => {
  const { type } = benchWith();
  const said = [expect.stringContaining('No jobs here')];
  expect(await type('')).toMatchObject({ code: 0, data: [], said });
  const none = { kind: 'jobs', v: 1, total: 0, totalIsLeast: false, jobs: [] };
  expect(objectIn(await type('--json'))).toEqual(none);
  expect(await type('show 1')).toMatchObject({ code: 1, data: [] });
  const untried = [expect.stringContaining('nothing to count')];
  expect(await type('statistics')).toMatchObject({ code: 0, data: [], said: untried });
  expect((await type('export')).data).toEqual(['{"row":"header","format":"lidwright-jobs","v":1}']);
});

test('the list shows twenty, says how many there are, and takes filters by state, name, wood and day', async () => {
  const { type } = benchWith(...Array.from({ length: 23 }, (_, at) => at + 1));
  const names = async (filter: string): Promise<readonly string[]> =>
    (await type(filter)).data.map((line) => line.slice(6, 12));
  const told = await type('');
  expect(told.data).toHaveLength(20);
  expect(told.said).toEqual(['20 of 23 listed. --all lists them all.']);
  expect((await type('--all')).data).toHaveLength(23);
  expect(await names('--open')).toEqual(['Box 20', 'Box 10']);
  expect(await names('--name "BOX 1" --limit 2')).toEqual(['Box 19', 'Box 18']);
  expect(await names('--name box_1')).toEqual([]);
  const woods = objectIn(await type('--wood OLIVE --json')).jobs.map(({ wood }) => wood);
  expect(new Set(woods)).toEqual(new Set(['olive']));
  expect((await type('--since 2023-11-01 --all')).data).toHaveLength(23);
  expect(objectIn(await type('--closed --limit 2 --json'))).toMatchObject({
    total: 21,
    jobs: [{ number: 23 }, { number: 22 }],
  });
  expect((await type('--since 2031-01-01')).data).toEqual([]);
  for (const wrong of ['--open --closed', '--since yesterday', '--limit none'])
    expect((await type(wrong)).code).toBe(2);
});

test('show --log prints every reading and how each figure was worked out', async () => {
  const { type } = benchWith(3);
  const job = objectIn(await type('show 1 --json'));
  const setup = { cutter: { angleDeg: 60 } };
  expect(job).toMatchObject({ kind: 'job', v: 1, id: idFrom(3, 0), status: 'runs', setup });
  const { figures } = job;
  const target = figures.find(({ figure }) => figure === 'target spigot');
  const { boreMm, limitMm, wantedMm } = target?.inputs ?? {};
  expect(target?.valueMm).toBeCloseTo(Number(boreMm) + Number(limitMm) - Number(wantedMm), 12);
  expect(target?.formula).toContain('S = B + limit');
  expect(figures.map(({ figure }) => figure)).toEqual([
    ...['bore', 'depth in the bore', 'depth on the spigot', 'flank limit', 'root limit', 'limit'],
    ...['target spigot', 'spigot', 'clearance'],
  ]);
  const readings = job.entries.flatMap((entry) => entry.readings);
  expect(readings).toHaveLength(6);
  expect(readings[0]).toMatchObject({ n: 0, unit: 'mm', stepMm: 0.01, raw: expect.stringContaining('DI,0') });
  const said = await type('show "box 3" --log');
  expect(said.code).toBe(0);
  for (const reading of readings) expect(said.data.join('\n')).toContain(`${reading.text}mm`);
});

test('show opens with the sizes, the fit and the trials, and keeps the readings for --log', async () => {
  const { type } = benchWith(3);
  const { data, said } = await type('show 1');
  expect(data.slice(2, 6).map((line) => line.slice(0, 45).trimEnd())).toEqual([
    expect.stringMatching(/^bore {20}\d\d\.\d\d ± 0\.04 mm/),
    expect.stringMatching(/^spigot target {11}\d\d\.\d\d mm; runs from/),
    expect.stringMatching(/^spigot {18}\d\d\.\d\d ± 0\.04 mm/),
    'fit on trial            running; trial 1; cle',
  ]);
  expect(data.length).toBeLessThan(24);
  expect(data.at(-1)).toBe('note                    Waxed; runs freely.');
  expect(said).toEqual([expect.stringContaining('--log adds')]);
});

test('rename, undo, remove, restore and duplicate each add to the log and take nothing away', async () => {
  const { type } = benchWith(1, 2);
  const rows = async (): Promise<number> => objectIn(await type('show 1 --json')).entries.length;
  const before = await rows();
  expect((await type('rename 1 "Salt box"')).data[0]).toContain('Salt box');
  expect((await type('undo 1')).data[0]).toContain('renamed: Salt box');
  expect((await type('undo 1')).data[0]).toContain('closed: it runs');
  expect(objectIn(await type('show 1 --json'))).toMatchObject({ name: 'Box 1', status: 'open' });
  const listed = { name: 'Box 1', status: 'open', trials: 1, targetMm: expect.any(Number) };
  expect(objectIn(await type('--json'))).toMatchObject({ jobs: [listed, {}] });
  expect((await type('remove 1')).code).toBe(0);
  expect((await type('remove 1')).code).toBe(1);
  expect((await type('')).data).toHaveLength(1);
  expect((await type('--removed')).data).toHaveLength(1);
  expect((await type('restore 1')).code).toBe(0);
  expect((await type('restore 1')).code).toBe(1);
  expect(await rows()).toBe(before + 5);
  expect(objectIn(await type('duplicate 1 "Second lid" --json'))).toMatchObject({
    job: { name: 'Second lid', status: 'open', boreMm: null },
  });
  expect((await type('rename 1 ""')).code).toBe(2);
});

test('a job is found by its number, the start of its id or its name, and one that could be several is not guessed', async () => {
  const { type } = benchWith(1, 2, 12);
  const told = await type('remove box');
  expect(told.code).toBe(1);
  expect(told.said).toHaveLength(5);
  expect((await type('--removed')).data).toEqual([]);
  for (const [words, name] of [
    ['2', 'Box 2'],
    [idFrom(12, 0).slice(0, 9), 'Box 12'],
    ['"Box 1"', 'Box 1'],
  ])
    expect(objectIn(await type(`show ${words} --json`))).toMatchObject({ name });
  expect((await type('show %')).code).toBe(1);
});

test('an export to a file is private, never written over, and comes back byte for byte', async () => {
  const here = benchWith(4, 5);
  const there = benchWith(6);
  const file = join(here.folder, 'all.ndjson');
  expect(await here.type(`export --file ${file}`)).toMatchObject({ code: 0, data: [] });
  expect(statSync(file).mode & 0o777).toBe(0o600);
  expect((await here.type(`export --file ${file}`)).code).toBe(3);
  const text = readFileSync(file, 'utf8');
  expect(`${(await here.type('export')).data.join('\n')}\n`).toBe(text);
  const added = 'Added: 20 entries and 12 readings, in 2 jobs.';
  expect(await there.type(`import ${file}`)).toMatchObject({ code: 0, data: [added] });
  const again = 'Already here, left unchanged: 20 entries and 12 readings.';
  expect((await there.type(`import ${file}`)).data).toContain(again);
  const both = (await there.type('export "box 4" "box 5"')).data;
  expect(`${both.join('\n')}\n`).toBe(text);
  expect((await there.type('export "box 9"')).code).toBe(1);
});

test('an import says which lines it refused, and what was kept', async () => {
  const { folder, type } = benchWith();
  const file = join(folder, 'mended by hand.ndjson');
  const lines = (await benchWith(7).type('export')).data;
  writeFileSync(file, `${[...lines, JSON.stringify({ row: 'entry', id: '\u001b[2J' })].join('\n')}\n`);
  const told = await type(`import "${file}"`);
  expect(told.code).toBe(1);
  expect(told.said[0]).toMatch(/^jobs: line 18: .*not an id/);
  expect(told.said.at(-1)).toContain('Refused: 1 row. Added and kept: 16 rows.');
  expect((await type('import nowhere.ndjson')).code).toBe(3);
  expect((await type(`import ${folder}`)).code).toBe(3);
});

test('readings go out as CSV, one line each', async () => {
  const { type } = benchWith(8);
  const told = await type('export --csv');
  expect(told.data).toHaveLength(7);
  expect(told.data[1]).toMatch(
    /^"[0-9a-f-]{36}","Box 8",.*,0,"[\d.]+","mm",[\d.]+,0\.01,1000,"DI,0,1000,.*"\r$/,
  );
});

test('statistics count first trials by setup, and the bias with its spread', async () => {
  const { type } = benchWith(...Array.from({ length: 9 }, (_, at) => at + 1));
  const statistics = objectIn(await type('statistics --json'));
  expect(statistics).toMatchObject({ kind: 'statistics', jobs: 9, firstTrialRan: 9 });
  expect(statistics.setups.reduce((so, { jobs }) => so + jobs, 0)).toBe(9);
  for (const { biasMm, biasStandardMm } of statistics.setups) {
    expect(Math.abs(biasMm)).toBeLessThan(0.15);
    expect(biasStandardMm).toBeLessThan(0.15);
  }
  expect((await type('statistics')).data.join('\n')).toMatch(/████/);
});

test('nothing in a name reaches the terminal as anything but text', async () => {
  const name = '\u001b]0;mine\u0007 \u009b2J ../../etc \u202eevil';
  const common = { job: 'b-1', at: 1, readings: [] };
  const setup = setupNamed(name, '\u001b[31mred');
  const { folder, type } = benchOf([
    { id: 'a-1', ...common, fact: { kind: 'job-begun', setup } },
    { id: 'a-2', ...common, fact: { kind: 'note-added', text: 'wax\r\u001b[1A' } },
  ]);
  for (const line of [
    ...['', '--json', 'show 1', 'show 1 --json', 'rename 1 "\u001bc"', 'undo 1'],
    ...['export', 'export --csv', 'remove 1', 'show zzz\u001b[2J'],
  ]) {
    const { data, said } = await type(line);
    expect([...data, ...said].join('').replaceAll('\r', '')).toMatch(/^[^\p{Cc}\u202e]*$/u);
  }
  expect(existsSync(join(folder, '..', 'etc'))).toBe(false);
});

test('jobs begun one after another have different printed ids, and each id finds its job', async () => {
  const ids = ['01a2130d-27a5-7189-aa80-4dd102a04739', '01a2130d-27b1-7189-aa80-4dd102a04739'];
  const { type } = benchOf(
    ids.flatMap((job, at) =>
      sampleJob(at + 1)
        .slice(0, 1)
        .map((begun) => ({ ...begun, id: `${job.slice(0, -1)}0`, job })),
    ),
  );
  const { said } = await type('show box');
  const printed = said.join('\n').match(/01a2130d[\w-]*/g) ?? [];
  expect(new Set(printed).size).toBe(2);
  for (const id of printed) expect((await type(`show ${id}`)).code).toBe(0);
});
