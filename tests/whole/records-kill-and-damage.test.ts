// The records when a bench is killed, starved of disk, locked out or damaged, in the built pieces and in real processes.
import { spawnSync } from 'node:child_process';
import { chmodSync, chownSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { homeOf } from '../../src/records/home.ts';
import { newId } from '../../src/records/jobs.ts';
import { troubleText } from '../../src/records/trouble.ts';
import { everyFact } from '../bench/records/hostile.ts';
import {
  buildChild,
  copyTo,
  damageOnce,
  flipping,
  hasNamespaces,
  killOnce,
  onOwnDisk,
  type Running,
  sampleDatabase,
  start,
} from '../bench/records/kill-and-damage.ts';
import { idFrom, sampleJob } from '../bench/records/sample.ts';
import { fastChanceFrom } from '../support/chance.ts';
import { freshFolder } from '../support/fresh-folder.ts';
import { freshHome, importText, must, opened } from '../support/records-home.ts';

const LIDWRIGHT = resolve(import.meta.dirname, '../../dist/lidwright.js');
const NOBODY = 65534;
const isRoot = process.getuid?.() === 0;

const child = await buildChild();

/** The bench without a screen, as somebody who may not write everywhere. */
const startAsNobody = (...args: readonly string[]): Running =>
  isRoot
    ? start('setpriv', [
        ...[`--reuid=${NOBODY}`, `--regid=${NOBODY}`, '--clear-groups', process.execPath, child],
        ...args,
      ])
    : start(process.execPath, [child, ...args]);

const idsAfter = (bench: Running, word: string): readonly string[] =>
  bench.told.flatMap((line) => (line.startsWith(`${word} `) ? [line.slice(word.length + 1)] : []));

test('no entry of any kind that was said to be saved is missing after kill -9, ten times over', async () => {
  const home = freshHome();
  const chance = fastChanceFrom(11);
  let saved = 0;
  for (let round = 0; round < 10; round += 1) {
    const outcome = await killOnce(child, home, 1 + round * 1000, chance.below(30));
    expect(outcome.missing).toEqual([]);
    saved += outcome.saved;
  }
  expect(saved).toBeGreaterThan(10);
});

test('a full disk is reported, costs nothing that was saved, and work goes on once there is room', async () => {
  const folder = freshFolder();
  const command = [process.execPath, child, 'fill', join(folder, 'home')];
  const bench = hasNamespaces()
    ? onOwnDisk('mount -t tmpfs -o size=3m none "$1"', folder, command)
    : start('sh', ['-c', 'ulimit -f 2400; exec "$@"', 'sh', ...command]);
  await bench.ended;
  const trouble = bench.told.filter((line) => line.startsWith('trouble '));
  expect(trouble[0]).toMatch(/^trouble (disk-full|failed) /);
  const there = new Set(idsAfter(bench, 'there'));
  const saved = idsAfter(bench, 'saved');
  expect(saved.length).toBeGreaterThan(20);
  expect(saved.filter((id) => !there.has(id))).toEqual([]);
  if (hasNamespaces()) {
    expect(trouble[0]).toContain('trouble disk-full');
    expect(bench.told).toContain('recovered');
  }
});

/** A small disk with 8 KB of room, and one file in it that had its place before. */
const NEARLY_FULL =
  'mount -t tmpfs -o size=300k none "$1"; echo old > "$1/sheet.html"; dd if=/dev/zero of="$1/ballast" bs=4k count=72 2>/dev/null';
/** What is on the disk once the command has ended. */
const LISTED = ['sh', '-c', '"$@"; code=$?; ls -s "$0"; exit $code'];
const filesTold = (bench: Running): readonly string[] =>
  bench.told.flatMap((line) => /^ *\d+ (\S+)$/.exec(line)?.[1] ?? []).toSorted();

test.runIf(hasNamespaces())(
  'a rescue file that does not fit goes whole to the next folder, and leaves nothing',
  async () => {
    const [full, roomy] = [freshFolder(), freshFolder()];
    const command = [...LISTED, full, process.execPath, child, 'rescue', full, roomy];
    const bench = onOwnDisk(NEARLY_FULL, full, command);
    expect(await bench.ended).toBe(0);
    const path = join(roomy, 'lidwright-rescued-1.ndjson');
    expect(bench.told).toContain(`rescued ${path}`);
    expect(filesTold(bench)).toEqual(['ballast', 'sheet.html']);
    const records = opened(freshHome());
    expect(await importText(records, readFileSync(path, 'utf8'))).toMatchObject({ refused: 0 });
    expect(must(records.entriesOf(idFrom(1, 0)))).toEqual(sampleJob(1, 300));
  },
);

test.runIf(hasNamespaces())(
  'a sheet that does not fit on the disk is refused, and the earlier one stays',
  async () => {
    const home = freshHome();
    sampleDatabase(home, 1);
    const full = freshFolder();
    const file = join(full, 'tea.html');
    const program = [process.execPath, LIDWRIGHT, 'sheet', '1', '--home', home.data, '--file', file];
    const bench = onOwnDisk(NEARLY_FULL, full, [...LISTED, full, ...program]);
    expect(await bench.ended).toBe(3);
    expect(filesTold(bench)).toEqual(['ballast', 'sheet.html']);
  },
);

test('a home where no folder can be made is refused at once', () => {
  const env = { ...process.env, LIDWRIGHT_HOME: '/proc/x' };
  const ran = spawnSync(process.execPath, [LIDWRIGHT, 'jobs'], { env, encoding: 'utf8', timeout: 10_000 });
  expect(ran).toMatchObject({ status: 3, stderr: expect.stringContaining('/proc/x') });
});

/** Opens a home in which nothing can be written, by whatever means this machine has. */
function openReadOnly(original: string, folder: string): Running {
  const home = homeOf({}, join(folder, 'home'));
  if (hasNamespaces()) {
    const script = `mount -t tmpfs none "$1"; mkdir "$1/home"; cp ${original} "$1/home/jobs.db"; mount -o remount,ro "$1"`;
    return onOwnDisk(script, folder, [process.execPath, child, 'open', home.data]);
  }
  copyTo(original, home);
  chmodSync(home.database, 0o444);
  chmodSync(home.data, 0o555);
  return startAsNobody('open', home.data);
}

test('a folder in which nothing can be written is named', async () => {
  const from = freshHome();
  sampleDatabase(from, 2);
  const bench = openReadOnly(from.database, freshFolder());
  expect(await bench.ended).toBe(3);
  expect(bench.told.join('\n')).toContain('trouble read-only');
});

test('a folder that turns read-only while a job is open costs nothing', async () => {
  const folder = freshFolder();
  const home = homeOf({}, join(folder, 'home'));
  mkdirSync(home.data, { mode: 0o700 });
  if (isRoot) for (const path of [folder, home.data]) chownSync(path, NOBODY, NOBODY);
  const bench = startAsNobody('work', home.data, '1', '1000');
  await bench.until((told) => told.length > 5);
  for (const ending of ['', '-wal', '-shm']) chmodSync(home.database + ending, 0o444);
  chmodSync(home.data, 0o555);
  await bench.until((told) => told.length > 40);
  bench.process.kill('SIGKILL');
  await bench.ended;
  chmodSync(home.data, 0o700);
  for (const ending of ['', '-wal', '-shm']) chmodSync(home.database + ending, 0o600);
  const records = opened(home);
  const jobs = must(records.list()).jobs;
  const there = new Set(jobs.flatMap(({ id }) => must(records.entriesOf(id)).map((entry) => entry.id)));
  expect(bench.told.filter((line) => !line.startsWith('saved '))).toEqual([]);
  expect(idsAfter(bench, 'saved').filter((id) => !there.has(id))).toEqual([]);
});

test('a database that another program holds is reported with the name of that program', async () => {
  const home = freshHome();
  sampleDatabase(home, 1);
  const holder = start(process.execPath, [child, 'hold', home.data]);
  await holder.until((told) => told.includes('held'));
  const records = opened(home);
  const fact = { kind: 'note-added', text: 'late' } as const;
  const entry = { id: newId(), job: idFrom(1, 0), at: 1, fact, readings: [] };
  const saved = records.append(entry);
  expect(must(records.list()).total).toBe(1);
  holder.process.stdin?.end();
  await holder.ended;
  expect(saved).toMatchObject({ ok: false, trouble: { kind: 'locked' } });
  if (process.platform === 'linux' && !saved.ok)
    expect(troubleText(saved.trouble)).toContain(`process ${holder.process.pid}`);
  expect(must(records.append(entry))).toEqual({ others: false });
});

test('two benches on one home keep all of both, and each sees the other', async () => {
  const home = freshHome();
  const benches = [1, 101].map((seed) =>
    start(process.execPath, [child, 'work', home.data, String(seed), '8']),
  );
  expect(await Promise.all(benches.map(({ ended }) => ended))).toEqual([0, 0]);
  const records = opened(home);
  expect(must(records.list()).total).toBe(16);
  for (const seed of [1, 8, 101, 108])
    expect(must(records.entriesOf(idFrom(seed, 0)))).toEqual(everyFact(seed));
});

test('a truncated database is set aside untouched, and what can be read of it comes back', async () => {
  const home = freshHome();
  const whole = sampleDatabase(home, 30);
  const { size } = statSync(home.database);
  for (const left of [0.9, 0.5, 0.1]) {
    const outcome = await damageOnce(home.database, whole, (bytes) =>
      bytes.subarray(0, Math.floor(size * left)),
    );
    expect(outcome.kind).toBe('said');
    if (outcome.kind === 'said' && left === 0.9)
      expect(outcome.back.length).toBeGreaterThan(whole.lines.length / 2);
  }
  const garbage = await damageOnce(home.database, whole, () =>
    Buffer.from('no database at all, but long enough to be one'.repeat(99)),
  );
  expect(garbage).toMatchObject({ kind: 'said', back: [], trouble: { salvage: null } });
});

test('one flipped bit anywhere has no effect or is reported; no changed row is ever shown', async () => {
  const home = freshHome();
  const whole = sampleDatabase(home, 12);
  const flip = flipping(fastChanceFrom(5));
  const counts = { unharmed: 0, said: 0, refused: 0, wrong: 0 };
  for (let round = 0; round < 30; round += 1) {
    const outcome = await damageOnce(home.database, whole, flip);
    counts[outcome.kind] += 1;
    expect(outcome).not.toMatchObject({ kind: 'wrong' });
    if (outcome.kind === 'said') expect(outcome.back.length).toBeGreaterThan(whole.lines.length / 2);
  }
  expect(counts.said).toBeGreaterThan(0);
});

test('a database set aside is never overwritten: the second one gets another name', async () => {
  const home = freshHome();
  for (let round = 0; round < 2; round += 1) {
    copyTo(import.meta.filename, home);
    const records = opened(home);
    expect(records.notices).toMatchObject([{ kind: 'damaged', salvage: null }]);
    records.close();
  }
  const aside = readdirSync(home.data).filter((name) => name.includes('damaged') && name.endsWith('.db'));
  expect(aside).toHaveLength(2);
});

test('a bench that set a damaged database aside leaves both it and the new one alone when it ends', async () => {
  const home = freshHome();
  const bench = start(process.execPath, [child, 'spoil', home.data]);
  await bench.until((told) => told.length > 0);
  expect(bench.told.join()).toContain('trouble damaged');
  const damaged = readdirSync(home.data).filter((name) => /damaged.*\.db/.test(name));
  const before = damaged.map((name) => readFileSync(join(home.data, name)));
  const records = opened(home);
  must(records.appendAll(sampleJob(2, 4)));
  const log = statSync(`${home.database}-wal`);
  bench.process.stdin?.end();
  expect(await bench.ended).toBe(0);
  expect(statSync(`${home.database}-wal`).ino).toBe(log.ino);
  expect(damaged.map((name) => readFileSync(join(home.data, name)))).toEqual(before);
  must(records.appendAll(sampleJob(3, 4)));
  expect(must(opened(home).list()).total).toBe(2);
});
