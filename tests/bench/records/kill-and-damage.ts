// Kills a bench in the middle of its work, or flips one bit of its database, and checks what must hold after each.
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { createInterface } from 'node:readline';
import { isDeepStrictEqual } from 'node:util';
import { exportJobs } from '../../../src/records/export.ts';
import { type Home, homeOf } from '../../../src/records/home.ts';
import { openRecords, type Records } from '../../../src/records/jobs.ts';
import { type Kept, kept, type RecordsTrouble, troubleText } from '../../../src/records/trouble.ts';
import { bundled } from '../../support/bundled.ts';
import type { Chance } from '../../support/chance.ts';
import { inFreshFolder } from '../../support/fresh-folder.ts';
import { exportedText, importText, must } from '../../support/records-home.ts';
import { createChanges } from '../../support/waiting.ts';
import { everyFact } from './hostile.ts';
import { idFrom, sampleJob } from './sample.ts';

export const buildChild = async (): Promise<string> =>
  (await bundled('tests/bench/records/child.ts')).outfile;

/** A child that runs, with the lines it told so far. */
export interface Running {
  readonly process: ChildProcess;
  readonly told: readonly string[];
  /** Settles when this holds for what it has told, or when it has ended. */
  readonly until: (holds: (told: readonly string[]) => boolean) => Promise<void>;
  readonly ended: Promise<number | null>;
}

export function start(command: string, args: readonly string[]): Running {
  const child = spawn(command, args, { stdio: ['pipe', 'pipe', 'inherit'] });
  const told: string[] = [];
  const { changed, until } = createChanges();
  createInterface({ input: child.stdout }).on('line', (line) => {
    told.push(line);
    changed();
  });
  let over = false;
  const ended = new Promise<number | null>((settle) =>
    child.on('close', (code) => {
      over = true;
      changed();
      settle(code);
    }),
  );
  return { process: child, told, until: (holds) => until(() => over || holds(told)), ended };
}

const savedIn = (told: readonly string[]): readonly string[] =>
  told.flatMap((line) => (line.startsWith('saved ') ? [line.slice(6)] : []));

/**
 * Starts a bench on this home, ends it with kill -9 once it has saved `entries` entries, opens the home again, and answers
 * what it had said was saved and is not there. The jobs worked on are numbered from `seed`.
 */
export async function killOnce(
  child: string,
  home: Home,
  seed: number,
  entries: number,
): Promise<{ readonly saved: number; readonly missing: readonly string[] }> {
  const bench = start(process.execPath, [child, 'work', home.data, String(seed), '1000']);
  await bench.until((told) => savedIn(told).length > entries);
  bench.process.kill('SIGKILL');
  await bench.ended;
  const said = savedIn(bench.told);
  const records = must(openRecords(home));
  try {
    const missing = new Set(said);
    for (let job = seed; missing.size > 0 && job < seed + 1000; job += 1) {
      const there = must(records.entriesOf(idFrom(job, 0)));
      if (there.length === 0) break;
      const meant = everyFact(job);
      for (const [at, entry] of there.entries())
        if (isDeepStrictEqual(entry, meant[at])) missing.delete(entry.id);
    }
    return { saved: said.length, missing: [...missing] };
  } finally {
    records.close();
  }
}

/** All that a database shows: its export, and its list of jobs. */
export interface Shown {
  readonly lines: readonly string[];
  readonly list: string;
}

function shownBy(records: Records): Kept<Shown> {
  const list = records.list();
  if (!list.ok) return list;
  const lines: string[] = [];
  const done = exportJobs(records, (line) => lines.push(line));
  return done.ok ? kept({ lines, list: JSON.stringify(list.value) }) : done;
}

/** A database with some jobs in it, closed, and all that it shows. */
export function sampleDatabase(home: Home, jobs: number): Shown {
  const records = must(openRecords(home));
  for (let seed = 1; seed <= jobs; seed += 1) must(records.appendAll(sampleJob(seed, 8)));
  const shown = must(shownBy(records));
  records.close();
  return shown;
}

/** What came of opening a damaged copy and reading all of it. */
export type Outcome =
  | { readonly kind: 'unharmed' }
  | {
      readonly kind: 'said';
      readonly trouble: Extract<RecordsTrouble, { kind: 'damaged' }>;
      readonly back: readonly string[];
    }
  /** Not taken for ours, or for a newer one's: said, and left where it is, untouched. */
  | { readonly kind: 'refused'; readonly why: string }
  | { readonly kind: 'wrong'; readonly why: string };

/** Every line of `some` is one of `all`: nothing made up, nothing changed. */
const within = (some: readonly string[], all: readonly string[]): boolean => {
  const known = new Set(all);
  return some.every((line) => known.has(line));
};

type Found = { readonly trouble: RecordsTrouble } | Shown;

function damagedIn(home: Home): Found {
  const opened = openRecords(home);
  if (!opened.ok) return opened;
  const records = opened.value;
  try {
    const [notice] = records.notices;
    if (notice) return { trouble: notice };
    const shown = shownBy(records);
    return shown.ok ? shown.value : shown;
  } finally {
    records.close();
  }
}

/** Brings a salvage into an empty home; what is exported from there. */
const broughtBack = (path: string): Promise<readonly string[]> =>
  inFreshFolder(async (folder) => {
    const records = must(openRecords(homeOf({}, folder)));
    try {
      await importText(records, readFileSync(path, 'utf8'));
      return exportedText(records).trimEnd().split('\n');
    } finally {
      records.close();
    }
  });

/** Turns one bit, anywhere. */
export const flipping =
  (chance: Chance) =>
  (bytes: Buffer): Buffer => {
    const at = chance.below(bytes.length);
    bytes.writeUInt8(bytes.readUInt8(at) ^ (1 << chance.below(8)), at);
    return bytes;
  };

/** Damages a copy of a database, opens and reads it, and judges: either all of it is as it was, or the damage is said and set aside. */
export const damageOnce = (
  original: string,
  whole: Shown,
  damage: (bytes: Buffer) => Buffer,
): Promise<Outcome> =>
  inFreshFolder(async (folder) => {
    const home = homeOf({}, folder);
    const bytes = damage(readFileSync(original));
    writeFileSync(home.database, bytes, { mode: 0o600 });
    return outcomeOf(damagedIn(home), home, bytes, whole);
  });

async function outcomeOf(found: Found, home: Home, bytes: Buffer, whole: Shown): Promise<Outcome> {
  const wrong = (why: string): Outcome => ({ kind: 'wrong', why });
  if ('lines' in found)
    return isDeepStrictEqual(found, whole)
      ? { kind: 'unharmed' }
      : wrong('rows are missing or changed and nothing was said');
  const { trouble } = found;
  const isAsItWas = (path: string): boolean => existsSync(path) && readFileSync(path).equals(bytes);
  if (trouble.kind !== 'damaged')
    return { kind: isAsItWas(home.database) ? 'refused' : 'wrong', why: troubleText(trouble) };
  if (!trouble.setAside || !isAsItWas(trouble.setAside)) return wrong('it was not set aside unchanged');
  const back = trouble.salvage ? await broughtBack(trouble.salvage.path) : [];
  return within(back, whole.lines) ? { kind: 'said', trouble, back } : wrong('the salvage made something up');
}

/** True where a child may have its own small disk: Linux namespaces, for root and mostly for others too. */
export const hasNamespaces = (): boolean =>
  spawnSync('unshare', ['--map-root-user', '--mount', 'true'], { stdio: 'ignore' }).status === 0;

/** A command inside its own namespace, after a script that prepares a disk on `folder` ("$1"). */
export const onOwnDisk = (script: string, folder: string, command: readonly string[]): Running => {
  const shell = ['sh', '-ec', `${script}; shift; exec "$@"`, 'sh', folder, ...command];
  return start('unshare', ['--map-root-user', '--mount', ...shell]);
};

/** A copy of a closed database in a new home. */
export function copyTo(original: string, home: Home): void {
  mkdirSync(dirname(home.database), { recursive: true, mode: 0o700 });
  copyFileSync(original, home.database);
}
