// The records: homes, appending, the order of a log, lists, migrations, and what a damaged or foreign row comes to.
import { readFileSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import type { Entry, Fact } from '../../src/core/bench/entry.ts';
import { degrees, mm } from '../../src/core/units.ts';
import { openDatabase, openToLook } from '../../src/records/database.ts';
import { rescueText } from '../../src/records/export.ts';
import { type Home, homeOf, makePrivateFolder, writePrivately } from '../../src/records/home.ts';
import { newId, openRecords } from '../../src/records/jobs.ts';
import { checkAll } from '../../src/records/open.ts';
import { SCHEMA_VERSION } from '../../src/records/schema.ts';
import { idFrom, sampleJob, setupNamed } from '../bench/records/sample.ts';
import { exportedText, freshHome, importText, must, opened } from '../support/records-home.ts';

const entryOf = (job: string, fact: Fact, at = 1_700_000_000_000): Entry => ({
  ...{ id: newId(), job, at, fact, readings: [] },
});
const noteOf = (job: string, text: string): Entry => entryOf(job, { kind: 'note-added', text });
const begunNamed = (name: string, at?: number): Entry =>
  entryOf(newId(), { kind: 'job-begun', setup: setupNamed(name) }, at);

test('one folder holds everything when it is named; XDG folders hold it otherwise', () => {
  const one = { data: '/bench', config: '/bench', state: '/bench', database: '/bench/jobs.db' };
  expect(homeOf({ LIDWRIGHT_HOME: '/bench' })).toEqual(one);
  expect(homeOf({ LIDWRIGHT_HOME: '/bench' }, '/other').database).toBe('/other/jobs.db');
  const xdg = homeOf({ XDG_DATA_HOME: '/d', XDG_CONFIG_HOME: 'not/absolute' }, undefined, '/home/turner');
  expect(xdg.database).toBe('/d/lidwright/jobs.db');
  expect(xdg.config).toBe('/home/turner/.config/lidwright');
  expect(xdg.state).toBe('/home/turner/.local/state/lidwright');
});

test('new files are readable by their owner alone', () => {
  const home = freshHome();
  const records = opened(home);
  must(records.appendAll(sampleJob(1, 3)));
  writePrivately(join(home.config, 'notes.txt'), 'chisels\n');
  const mode = (path: string): number => statSync(path).mode & 0o777;
  expect(mode(home.data)).toBe(0o700);
  for (const ending of ['', '-wal', '-shm']) expect(mode(home.database + ending)).toBe(0o600);
  expect(mode(join(home.config, 'notes.txt'))).toBe(0o600);
});

test('a value that is not a number is refused, with everything that came with it', () => {
  const records = opened(freshHome());
  const job = sampleJob(1, 4);
  must(records.appendAll(job));
  const before = exportedText(records);
  const ring = { kind: 'ring-taken', known: mm(20), measured: mm(Number.NaN), land: mm(0.3) } as const;
  const bad = entryOf(job[0]?.job ?? '', ring);
  const trouble = { kind: 'bad-entry', reason: expect.stringContaining('measuredMm') };
  expect(records.appendAll([noteOf(bad.job, 'kept with it'), bad])).toMatchObject({ ok: false, trouble });
  expect(exportedText(records)).toBe(before);
});

test('a reading is refused when the driver would change it: a NUL character, or a number next to zero', () => {
  const records = opened(freshHome());
  const [begun, , measured] = sampleJob(1, 3);
  const [reading] = measured?.readings ?? [];
  if (!begun || !measured || !reading) throw new Error('a sample job has a bore with readings');
  must(records.append(begun));
  const reason = expect.stringMatching(/^reading 0: (raw|text|valueMm|stepMm): /);
  for (const change of [{ raw: 'R 1\0 2' }, { text: '4\0' }, { value: mm(5e-324) }, { step: mm(-1e-16) }])
    expect(records.append({ ...measured, readings: [{ ...reading, ...change }] })).toMatchObject({
      ok: false,
      trouble: { kind: 'bad-entry', reason },
    });
  expect(must(records.entriesOf(begun.job))).toEqual([begun]);
});

test('no character of a name and no clearance next to nothing keeps a job from being saved and listed', () => {
  const records = opened(freshHome());
  const begun = [begunNamed('Box\0es', 1), begunNamed('Box \ud83e', 2)];
  const spigot = { diameter: mm(42), how: 'typed', fit: 'tight', clearance: mm(1.1e-17) } as const;
  for (const entry of begun)
    must(records.appendAll([entry, entryOf(entry.job, { kind: 'spigot-taken', ...spigot }, entry.at)]));
  expect(must(records.list()).jobs).toMatchObject([
    { name: 'Box \ufffd', spigot: 42, clearance: 0 },
    { name: 'Boxes', spigot: 42, clearance: 0 },
  ]);
});

test('a fit of threads that nobody measured is not listed', () => {
  const records = opened(freshHome());
  const begun = begunNamed('Chased box');
  const sizes = { diameter: mm(42), how: 'typed', fit: 'tight', clearance: mm(0.1) } as const;
  must(records.appendAll([begun, entryOf(begun.job, { kind: 'spigot-taken', ...sizes, asPlanned: true })]));
  expect(must(records.list()).jobs).toMatchObject([{ spigot: 42, clearance: null, word: null }]);
});

test('a rescue file leaves nothing out, and numbers saved entries as the database does', () => {
  const records = opened(freshHome());
  const [begun, entered, ...rest] = sampleJob(1, 3);
  if (!begun || !entered) throw new Error('a sample job has entries');
  must(records.append(begun));
  must(records.append(noteOf(begun.job, 'from another bench')));
  must(records.append(entered));
  const grain = { kind: 'grain-seen', angle: degrees(10), trim: mm(Number.NaN), part: 'lid' } as const;
  const bad = entryOf(begun.job, grain);
  const log = [begun, entered, bad, ...rest];
  const lines = rescueText(log, must(records.placesOf(begun.job)))
    .trimEnd()
    .split('\n');
  const entries = lines.map((line) => JSON.parse(line)).filter(({ row }) => row === 'entry');
  expect(entries.map(({ id }) => id)).toEqual(log.map(({ id }) => id));
  expect(entries.map(({ n }) => n)).toEqual([1, 3, ...log.slice(2).map((_, at) => 4 + at)]);
});

test('rows of the log can be neither changed nor taken away', () => {
  const home = freshHome();
  must(opened(home).appendAll(sampleJob(1, 4)));
  const database = openDatabase(home.database);
  for (const table of ['job', 'entry', 'reading']) {
    expect(() => database.run(`DELETE FROM ${table}`)).toThrow(/only ever added/);
    const column = table === 'job' ? 'id' : 'n';
    expect(() => database.run(`UPDATE ${table} SET ${column} = ${column}`)).toThrow(/only ever added/);
  }
  expect(() => database.run('INSERT OR REPLACE INTO job (number, id) VALUES (1, ?)', 'x')).toThrow();
  database.close();
});

test('the second of two benches on a job is seen by the first, and a target is listed beside its own bore only', () => {
  const home = freshHome();
  const [one, other] = [opened(home), opened(home)];
  const log = sampleJob(2, 2).slice(0, 4);
  const [begun, , bore, target] = log;
  if (!begun || bore?.fact.kind !== 'bore-taken' || target?.fact.kind !== 'target-set')
    throw new Error('a sample job has a bore');
  expect(must(one.appendAll(log.slice(0, 3)))).toEqual({ others: false });
  must(other.entriesOf(begun.job));
  const wider = { ...bore.fact, diameter: mm(bore.fact.diameter + 0.3) };
  expect(must(other.append(entryOf(begun.job, wider)))).toEqual({ others: false });
  expect(must(one.append(target))).toEqual({ others: true });
  expect(must(one.append(noteOf(begun.job, 'alone again')))).toEqual({ others: false });
  expect(must(one.list()).jobs).toMatchObject([{ bore: wider.diameter, target: null }]);
  must(one.append(entryOf(begun.job, { ...target.fact, bore: wider.diameter })));
  expect(must(one.list()).jobs).toMatchObject([{ target: expect.any(Number) }]);
});

test('the open job worked on last at this bench comes first, even with a wrong clock', () => {
  const records = opened(freshHome());
  const [ahead, right] = [begunNamed('clock ahead', 4_000_000_000_000), begunNamed('clock right')];
  for (const begun of [ahead, right]) must(records.append(begun));
  expect(must(records.latestOpenJob())?.id).toBe(right.job);
  must(records.append(entryOf(right.job, { kind: 'job-closed', how: 'runs' })));
  expect(must(records.latestOpenJob())?.id).toBe(ahead.job);
});

test('an older database is upgraded step by step, its log is unchanged, and an older export is read', async () => {
  const home = freshHome();
  meddle(home, readFileSync(new URL('records-v1.sql', import.meta.url), 'utf8'));
  const records = opened(home);
  const [job] = must(records.list()).jobs;
  const listed = { number: 1, name: 'Needle case', status: 'open', bore: 24.61, stage: 'bore size' };
  expect(job).toMatchObject(listed);
  const log = must(records.logOf(job?.id ?? ''));
  const kinds = ['job-begun', 'stage-entered', 'bore-taken', 'note-added'];
  expect(log.entries.map(({ fact }) => fact.kind)).toEqual(kinds);
  expect(log.leftOut).toMatchObject([{ row: { kind: 'wax-rubbed-in' }, why: 'newer' }]);
  expect(log.entries[2]?.readings.map(({ text }) => text)).toEqual(['24.58', '24.61']);
  const exported = readFileSync(new URL('records-v1.ndjson', import.meta.url), 'utf8');
  expect(exportedText(records)).toBe(exported);
  const other = opened(freshHome());
  expect(await importText(other, exported)).toMatchObject({ refused: 0 });
  expect(exportedText(other)).toBe(exported);
});

/** Changes a database as another program would. */
function meddle(home: Home, sql: string): void {
  makePrivateFolder(home.data);
  const other = openDatabase(home.database);
  other.script(sql);
  other.close();
}

/** The bytes of a closed database with one text changed for another as long. */
function rewrite(home: Home, from: string, to: string): void {
  const bytes = readFileSync(home.database);
  bytes.write(to, bytes.indexOf(from));
  writeFileSync(home.database, bytes);
}

/** A home with a job in it, its records closed. */
function homeWithJob(readings = 2): Home {
  const home = freshHome();
  const records = must(openRecords(home));
  must(records.appendAll(sampleJob(1, readings)));
  records.close();
  return home;
}

test('a database of a newer program is refused and not touched, also where that one upgrades it while it is open', () => {
  const home = homeWithJob();
  const records = opened(home);
  meddle(home, `PRAGMA user_version = ${SCHEMA_VERSION + 5}`);
  const refused = { kind: 'newer', found: SCHEMA_VERSION + 5, known: SCHEMA_VERSION };
  expect(records.append(noteOf(idFrom(1, 0), 'late'))).toMatchObject({ ok: false, trouble: refused });
  records.close();
  const before = readFileSync(home.database);
  expect(openRecords(home)).toMatchObject({ ok: false, trouble: refused });
  expect(readFileSync(home.database).equals(before)).toBe(true);
});

test('a table whose definition has one letter changed is damage, said and set aside', () => {
  const home = homeWithJob();
  rewrite(home, 'number INTEGER PRIMARY KEY', 'nuMber');
  const after = opened(home);
  expect(after.notices).toMatchObject([{ kind: 'damaged', salvage: { jobs: 1, entries: 10, readings: 2 } }]);
});

test('a letter changed in a row is seen when the row is read, and by the whole check', () => {
  const home = homeWithJob(5);
  const sound = openToLook(home.database);
  expect(checkAll(sound)).toEqual({ entries: 10, readings: 5, unusable: [], wrong: null });
  sound.close();
  rewrite(home, 'Waxed', 'Waved');
  const changed = openToLook(home.database);
  expect(checkAll(changed).wrong).toMatch(/entry 9 isn't what was written/);
  changed.close();
  const damaged = { kind: 'damaged', salvage: { jobs: 1, entries: 9, readings: 5 } };
  expect(opened(home).entriesOf(idFrom(1, 0))).toMatchObject({ ok: false, trouble: damaged });
  expect(must(opened(home).list()).total).toBe(0);
});

test('nothing is said to be saved into a database that was moved away', () => {
  const home = homeWithJob();
  const records = opened(home);
  renameSync(home.database, `${home.database}.elsewhere`);
  const late = records.append(noteOf(idFrom(1, 0), 'late'));
  expect(late).toMatchObject({ ok: false, trouble: { kind: 'moved' } });
});

test.each<[what: string, spoil: (home: Home) => void]>([
  ['a database of another program', (home) => meddle(home, 'CREATE TABLE recipes (name TEXT)')],
  ['a folder where a file should be', (home) => makePrivateFolder(home.database)],
  [
    'a file where a folder should be',
    (home) => {
      makePrivateFolder(dirname(home.data));
      writeFileSync(home.data, 'no folder');
    },
  ],
])('%s is named and left alone', (_, spoil) => {
  const home = freshHome();
  spoil(home);
  expect(openRecords(home)).toMatchObject({ ok: false, trouble: { kind: 'failed' } });
});
