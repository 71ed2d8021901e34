// Jobs with absurd values, in a file to import and in the database already, or with a name that is hard to cut: what can't be used is
// named, the rest is kept, and the bench opens.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { HEADER, lineOf, plainRowsOf, rowsOf } from '../../src/records/codec/row.ts';
import { homeOf } from '../../src/records/home.ts';
import { summarise } from '../../src/records/list.ts';
import { addEntry } from '../../src/records/log.ts';
import { everyFact } from '../bench/records/hostile.ts';
import { type Day, openDay } from '../support/day.ts';
import { must, opened } from '../support/records-home.ts';

type Change = (line: string) => string;
const to =
  (kind: string, from: string, value: string): Change =>
  (line) =>
    line.includes(`"kind":"${kind}"`) ? line.replace(from, value) : line;

const linesWith = (change: Change): readonly string[] =>
  everyFact(1)
    .flatMap((entry, at) => plainRowsOf(entry, at + 1))
    .map((row) => change(lineOf(row)));

async function importOf(day: Day, ...lines: readonly string[]) {
  const file = join(day.home, 'import.ndjson');
  writeFileSync(file, `${[HEADER, ...lines].join('\n')}\n`);
  return day.run('jobs', 'import', file);
}

/** The bench opens, shows this, and leaves. */
async function opensAndLeaves(day: Day, shown: string): Promise<void> {
  const eye = day.open();
  await eye.untilShown(shown);
  eye.press('q');
  expect((await eye.ended(10_000)).code).toBe(0);
}

test.each([
  ['degreesOfFreedom', to('bore-taken', '"degreesOfFreedom":4', '"degreesOfFreedom":-3')],
  ['standardMm', to('bore-taken', '"standardMm":0.01', '"standardMm":-0.01')],
  ['perDetentStandardMm', to('job-begun', '"perDetentStandardMm":0.001', '"perDetentStandardMm":1e308')],
  ['lengthMm', to('job-begun', '"lengthMm":1.5875', '"lengthMm":1e308')],
])('an import with an absurd %s has that row refused by name, and the bench opens', async (field, change) => {
  const day = openDay();
  const told = await importOf(day, ...linesWith(change));
  expect(told).toMatchObject({ code: 1, err: expect.stringMatching(new RegExp(`line \\d+: .*${field}`)) });
  await opensAndLeaves(day, 'q leave');
  expect((await day.run('jobs', 'export')).code).toBe(0);
});

test('a row nested without end is refused by its line, and the rows beside it are kept', async () => {
  const deep = `{"row":"entry","id":"deep","job":"d","n":1,"atMs":1,"readings":0,"fact":{"kind":"later","in":${'['.repeat(20_000)}${']'.repeat(20_000)}}}`;
  const lines = linesWith((line) => line);
  const told = await importOf(openDay(), ...lines.slice(0, 3), deep, ...lines.slice(3));
  expect(told.code).toBe(1);
  expect(told.err).toContain('line 5: nested too deep');
  expect(told.out).toContain(`Added: ${everyFact(1).length} entries`);
});

test('an absurd value that is in the database already is left out, and found by the doctor', async () => {
  const day = openDay();
  const records = opened(homeOf({}, day.home));
  const [begun, ...rest] = everyFact(1);
  if (!begun) throw new Error('a job has a beginning');
  must(records.append(begun));
  const bore = rest.find((entry) => entry.fact.kind === 'bore-taken');
  const sound = bore && rowsOf({ ...bore, readings: [] }, 2);
  if (!sound?.ok) throw new Error('a job has a sound bore');
  const { entry } = sound.value;
  const fact = entry.fact.replace('"degreesOfFreedom":4', '"degreesOfFreedom":-3');
  must(
    records.use((database) => {
      addEntry(database, { ...entry, fact }, 1, true);
      summarise(database, 1);
    }),
  );
  records.close();
  const doctor = await day.run('doctor', '--port', join(day.home, 'no-board'));
  expect(doctor.code).not.toBe(0);
  expect(doctor.out + doctor.err).toMatch(/job 1 \(bore-taken: degreesOfFreedom/);
  const show = await day.run('jobs', 'show', '1');
  expect(show).toMatchObject({ code: 0, out: expect.stringContaining("holds a value that can't be used") });
  await opensAndLeaves(day, 'hostile');
});

test('an emoji at the last place of a name costs neither the name nor the job', async () => {
  const day = openDay();
  const eye = day.open();
  await eye.untilShown('◆ welcome');
  await eye.goes(
    ['w', '◆ new job'],
    [`${'x'.repeat(79)}🪵`, 'xxxxx'],
    ['\x1b[F', '◆bore size'],
    ['50.00\r50.00\r50.00\r', '3 READINGS'],
    ['\r', 'Bore kept'],
  );
  expect(await eye.left()).toBe(0);
  const job = JSON.parse((await day.run('jobs', 'show', '1', '--json')).out);
  expect(job).toMatchObject({ name: `${'x'.repeat(79)}🪵`, boreMm: 50 });
});
