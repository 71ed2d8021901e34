// The records: homes, appending, the order of a log, lists, migrations, and what a damaged or foreign row comes to.
import { readFileSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { jobOf, lastUndoable } from '../../src/core/bench/job.ts';
import { degrees, mm } from '../../src/core/units.ts';
import { openDatabase, openToLook } from '../../src/records/database.ts';
import { rescueText } from '../../src/records/export.ts';
import { homeOf, makePrivateFile, makePrivateFolder, writePrivately } from '../../src/records/home.ts';
import { newId, openRecords } from '../../src/records/jobs.ts';
import { checkAll } from '../../src/records/open.ts';
import { SCHEMA_VERSION } from '../../src/records/schema.ts';
import { idFrom, sampleJob, setupNamed } from '../bench/records/sample.ts';
import { exportedText, freshHome, importText, must, opened } from '../support/records-home.ts';

const noteOf = (job: string, text: string, at = 1_700_000_000_000) =>
  ({ id: newId(), job, at, fact: { kind: 'note-added', text }, readings: [] }) as const;

test('one folder holds everything when it is named; XDG folders hold it otherwise', () => {
  expect(homeOf({ LIDWRIGHT_HOME: '/bench' })).toEqual({
    data: '/bench',
    config: '/bench',
    state: '/bench',
    database: '/bench/jobs.db',
  });
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

test('an entry tried again is kept once', () => {
  const records = opened(freshHome());
  const [begun] = sampleJob(1);
  if (!begun) throw new Error('a sample job has a beginning');
  must(records.append(begun));
  must(records.append(begun));
  expect(must(records.entriesOf(begun.job))).toHaveLength(1);
});

test('a value that is not a number is refused, with everything that came with it', () => {
  const records = opened(freshHome());
  const job = sampleJob(1, 4);
  must(records.appendAll(job));
  const before = exportedText(records);
  const bad = {
    id: newId(),
    job: job[0]?.job ?? '',
    at: 1,
    fact: { kind: 'ring-taken', known: mm(20), measured: mm(Number.NaN), land: mm(0.3) },
    readings: [],
  } as const;
  expect(records.appendAll([noteOf(bad.job, 'kept with it'), bad])).toMatchObject({
    ok: false,
    trouble: { kind: 'bad-entry', reason: expect.stringContaining('measuredMm') },
  });
  expect(exportedText(records)).toBe(before);
});

test('a reading is refused when the driver would change it: a NUL character, or a number next to zero', () => {
  const records = opened(freshHome());
  const [begun, ...rest] = sampleJob(1, 3);
  const measured = rest.find(({ readings }) => readings.length > 0);
  const [reading] = measured?.readings ?? [];
  if (!begun || !measured || !reading) throw new Error('a sample job has readings');
  must(records.append(begun));
  for (const change of [{ raw: 'R 1\0 2' }, { text: '4\0' }, { value: mm(5e-324) }, { step: mm(-1e-16) }])
    expect(records.append({ ...measured, readings: [{ ...reading, ...change }] })).toMatchObject({
      ok: false,
      trouble: {
        kind: 'bad-entry',
        reason: expect.stringMatching(/^reading 0: (raw|text|valueMm|stepMm): /),
      },
    });
  expect(must(records.entriesOf(begun.job))).toEqual([begun]);
});

test('a job is listed whose name has a NUL character and whose clearance is next to nothing', () => {
  const records = opened(freshHome());
  const [begun] = sampleJob(1);
  if (begun?.fact.kind !== 'job-begun') throw new Error('a sample job has a beginning');
  const setup = { ...begun.fact.setup, name: 'Box\0es' };
  must(records.append({ ...begun, fact: { kind: 'job-begun', setup } }));
  const spigot = { diameter: mm(42), how: 'typed', fit: 'tight', clearance: mm(1.1e-17) } as const;
  must(records.append({ ...noteOf(begun.job, ''), fact: { kind: 'spigot-taken', ...spigot } }));
  expect(must(records.list()).jobs).toMatchObject([{ name: 'Boxes', spigot: 42, clearance: 0 }]);
});

test('half a character in a name never keeps it from being saved', () => {
  const records = opened(freshHome());
  const [begun] = sampleJob(1);
  if (begun?.fact.kind !== 'job-begun') throw new Error('a sample job has a beginning');
  const setup = { ...begun.fact.setup, name: 'Box \ud83e' };
  must(records.append({ ...begun, fact: { kind: 'job-begun', setup } }));
  expect(must(records.list()).jobs).toMatchObject([{ name: 'Box \ufffd' }]);
});

test('a rescue file leaves nothing out, and numbers saved entries as the database does', () => {
  const records = opened(freshHome());
  const [begun, entered, ...rest] = sampleJob(1, 3);
  if (!begun || !entered) throw new Error('a sample job has entries');
  must(records.append(begun));
  must(records.append(noteOf(begun.job, 'from another bench')));
  must(records.append(entered));
  const bad = {
    ...noteOf(begun.job, ''),
    fact: { kind: 'grain-seen', angle: degrees(10), trim: mm(Number.NaN), part: 'lid' },
  } as const;
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

test('undo is another row, and the row it names no longer counts', () => {
  const records = opened(freshHome());
  const log = sampleJob(2, 4);
  must(records.appendAll(log));
  const job = log[0]?.job ?? '';
  const last = lastUndoable(must(records.entriesOf(job)));
  expect(last?.fact.kind).toBe('job-closed');
  must(
    records.append({
      id: newId(),
      job,
      at: 5,
      fact: { kind: 'undone', entry: last?.id ?? '' },
      readings: [],
    }),
  );
  const after = must(records.entriesOf(job));
  expect(after).toHaveLength(log.length + 1);
  expect(jobOf(after)?.closed).toBeNull();
  expect(must(records.find(job))[0]).toMatchObject({
    status: 'open',
    trials: 1,
    target: log[3]?.fact.kind === 'target-set' ? log[3].fact.target : null,
  });
});

test('a clock set back changes no order', () => {
  const records = opened(freshHome());
  const job = sampleJob(3, 2);
  must(records.appendAll(job));
  const id = job[0]?.job ?? '';
  const texts = ['first', 'second, an hour earlier', 'third, in another century'];
  for (const [place, text] of texts.entries())
    must(records.append(noteOf(id, text, 1_700_000_000_000 - place ** 9 * 3_600_000)));
  expect(jobOf(must(records.entriesOf(id)))?.notes.slice(-3)).toEqual(texts);
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
  expect(must(other.append({ ...bore, id: newId(), fact: wider }))).toEqual({ others: false });
  expect(must(one.append(target))).toEqual({ others: true });
  expect(must(one.append(noteOf(begun.job, 'alone again')))).toEqual({ others: false });
  expect(must(one.list()).jobs).toMatchObject([{ bore: wider.diameter, target: null }]);
  must(one.append({ ...target, id: newId(), fact: { ...target.fact, bore: wider.diameter } }));
  expect(must(one.list()).jobs).toMatchObject([{ target: expect.any(Number) }]);
});

test('the list is filtered by state, name, wood and day, and counts what it does not show', () => {
  const records = opened(freshHome());
  for (let seed = 1; seed <= 20; seed += 1) must(records.appendAll(sampleJob(seed, 1)));
  const names = (filter: object): readonly string[] =>
    must(records.list(filter)).jobs.map(({ name }) => name);
  expect(names({ state: 'open' })).toEqual(['Box 20', 'Box 10']);
  expect(must(records.list({ state: 'closed', limit: 3 }))).toMatchObject({
    total: 18,
    jobs: { length: 3 },
  });
  expect(names({ name: 'BOX 1', limit: 2 })).toEqual(['Box 19', 'Box 18']);
  expect(names({ name: 'box_1' })).toEqual([]);
  const woods = must(records.list({ wood: 'olive' })).jobs.map(({ wood }) => wood);
  expect(new Set(woods)).toEqual(new Set(['olive']));
  expect(names({ since: 1_700_000_000_000 + 19 * 60_000 })).toEqual(['Box 20', 'Box 19']);
  const [gone] = must(records.find('Box 5'));
  must(records.append({ ...noteOf(gone?.id ?? '', ''), fact: { kind: 'job-removed' } }));
  expect(names({ removed: true })).toEqual(['Box 5']);
  expect(names({ name: 'box 5' })).toEqual([]);
});

test('a job is found by its number, the start of its id, or part of its name', () => {
  const records = opened(freshHome());
  for (const seed of [1, 2, 12]) must(records.appendAll(sampleJob(seed, 1)));
  const found = (words: string): readonly string[] => must(records.find(words)).map(({ name }) => name);
  expect(found('2')).toEqual(['Box 2']);
  expect(found(idFrom(12, 0).slice(0, 9))).toEqual(['Box 12']);
  expect(found('Box 1')).toEqual(['Box 1']);
  expect(found('box')).toHaveLength(3);
  expect(found('%')).toEqual([]);
});

test('the open job worked on last at this bench comes first, even with a wrong clock', () => {
  const records = opened(freshHome());
  const begin = (name: string, at: number) => {
    const entry = {
      id: newId(),
      job: newId(),
      at,
      fact: { kind: 'job-begun', setup: setupNamed(name) },
      readings: [],
    } as const;
    must(records.append(entry));
    return entry.job;
  };
  const ahead = begin('clock ahead', 4_000_000_000_000);
  const now = begin('clock right', 1_700_000_000_000);
  expect(must(records.latestOpenJob())?.id).toBe(now);
  must(records.append({ ...noteOf(now, ''), fact: { kind: 'job-closed', how: 'runs' } }));
  expect(must(records.latestOpenJob())?.id).toBe(ahead);
});

test('an older database is upgraded step by step, its log is unchanged, and an older export is read', async () => {
  const home = freshHome();
  makePrivateFolder(home.data);
  makePrivateFile(home.database);
  const old = openDatabase(home.database);
  old.script(readFileSync(new URL('records-v1.sql', import.meta.url), 'utf8'));
  old.close();
  const records = opened(home);
  const [job] = must(records.list()).jobs;
  expect(job).toMatchObject({
    number: 1,
    name: 'Needle case',
    status: 'open',
    bore: 24.61,
    stage: 'bore size',
  });
  const log = must(records.logOf(job?.id ?? ''));
  expect(log.entries.map(({ fact }) => fact.kind)).toEqual([
    'job-begun',
    'stage-entered',
    'bore-taken',
    'note-added',
  ]);
  expect(log.leftOut).toMatchObject([{ row: { kind: 'wax-rubbed-in' }, why: 'newer' }]);
  expect(log.entries[2]?.readings.map(({ text }) => text)).toEqual(['24.58', '24.61']);
  const exported = readFileSync(new URL('records-v1.ndjson', import.meta.url), 'utf8');
  expect(exportedText(records)).toBe(exported);
  const other = opened(freshHome());
  expect(await importText(other, exported)).toMatchObject({ refused: 0 });
  expect(exportedText(other)).toBe(exported);
});

test('a database of a newer program is refused and not touched', () => {
  const home = freshHome();
  const first = must(openRecords(home));
  must(first.appendAll(sampleJob(1, 2)));
  first.close();
  const newer = openDatabase(home.database);
  newer.script(`PRAGMA user_version = ${SCHEMA_VERSION + 5}`);
  newer.close();
  const before = readFileSync(home.database);
  expect(openRecords(home)).toMatchObject({
    ok: false,
    trouble: { kind: 'newer', found: SCHEMA_VERSION + 5, known: SCHEMA_VERSION },
  });
  expect(readFileSync(home.database).equals(before)).toBe(true);
});

test('a database that a newer program upgrades while it is open takes no more rows from this one', () => {
  const home = freshHome();
  const records = opened(home);
  must(records.appendAll(sampleJob(1, 2)));
  const newer = openDatabase(home.database);
  newer.script(`PRAGMA user_version = ${SCHEMA_VERSION + 1}`);
  newer.close();
  expect(records.append(noteOf(idFrom(1, 0), 'late'))).toMatchObject({
    ok: false,
    trouble: { kind: 'newer' },
  });
});

test('a table whose definition has one letter changed is damage, said and set aside', () => {
  const home = freshHome();
  const records = must(openRecords(home));
  must(records.appendAll(sampleJob(1, 2)));
  records.close();
  const bytes = readFileSync(home.database);
  bytes.write('nuMber', bytes.indexOf('number INTEGER PRIMARY KEY'));
  writeFileSync(home.database, bytes);
  const after = opened(home);
  expect(after.notices).toMatchObject([{ kind: 'damaged', salvage: { jobs: 1, entries: 10, readings: 2 } }]);
});

test('a letter changed in a row is seen when the row is read, and by the whole check', () => {
  const home = freshHome();
  const records = must(openRecords(home));
  must(records.appendAll(sampleJob(1, 5)));
  records.close();
  const sound = openToLook(home.database);
  expect(checkAll(sound)).toEqual({ entries: 10, readings: 5, unusable: [], wrong: null });
  sound.close();
  const bytes = readFileSync(home.database);
  bytes.write('Waved', bytes.indexOf('Waxed'));
  writeFileSync(home.database, bytes);
  const changed = openToLook(home.database);
  expect(checkAll(changed).wrong).toMatch(/entry 9 isn't what was written/);
  changed.close();
  const read = opened(home).entriesOf(idFrom(1, 0));
  expect(read).toMatchObject({
    ok: false,
    trouble: { kind: 'damaged', salvage: { jobs: 1, entries: 9, readings: 5 } },
  });
  expect(must(opened(home).list()).total).toBe(0);
});

test('a database of another program is left alone', () => {
  const home = freshHome();
  makePrivateFolder(home.data);
  const other = openDatabase(home.database);
  other.script('CREATE TABLE recipes (name TEXT)');
  other.close();
  expect(openRecords(home)).toMatchObject({ ok: false, trouble: { kind: 'failed' } });
});

test('nothing is said to be saved into a database that was moved away', () => {
  const home = freshHome();
  const records = opened(home);
  must(records.appendAll(sampleJob(1, 2)));
  renameSync(home.database, `${home.database}.elsewhere`);
  expect(records.append(noteOf(idFrom(1, 0), 'late'))).toMatchObject({
    ok: false,
    trouble: { kind: 'moved' },
  });
});

test('a folder where a file should be, and a file where a folder should be, are named', () => {
  const home = freshHome();
  makePrivateFolder(home.database);
  expect(openRecords(home)).toMatchObject({ ok: false, trouble: { kind: 'failed' } });
  const other = freshHome();
  makePrivateFolder(join(other.data, '..'));
  writeFileSync(other.data, 'no folder');
  expect(openRecords(other)).toMatchObject({ ok: false, trouble: { kind: 'failed' } });
});
