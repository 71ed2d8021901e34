// The records under fire: a bench ended in the middle of its work, and a database with one bit turned; what must hold after each.
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { isDeepStrictEqual } from 'node:util';
import { buildSync } from 'esbuild';
import { exportJobs } from '../../../src/records/export.ts';
import { type Home, homeOf } from '../../../src/records/home.ts';
import { importJobs } from '../../../src/records/import.ts';
import { openRecords, type Records } from '../../../src/records/jobs.ts';
import { type Kept, type RecordsTrouble, troubleText } from '../../../src/records/trouble.ts';
import { createChanges } from '../../support/waiting.ts';
import { everyFact } from './hostile.ts';
import { idFrom, sampleJob } from './sample.ts';

const root = resolve(import.meta.dirname, '../../..');

/** A new folder, and how to remove it. */
export function folderFor(name: string): { readonly folder: string; readonly remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), `lidwright-${name}-`));
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** A program as one file that node runs at once; beside node_modules, so that the drivers are found. */
export function bundled(entry: string): { readonly path: string; readonly remove: () => void } {
  const cache = join(root, 'node_modules/.cache');
  mkdirSync(cache, { recursive: true });
  const folder = mkdtempSync(join(cache, 'records-'));
  // A test may run it as another user.
  chmodSync(folder, 0o755);
  const path = join(folder, 'program.mjs');
  buildSync({
    entryPoints: [join(root, entry)],
    outfile: path,
    bundle: true,
    minify: true,
    platform: 'node',
    format: 'esm',
    external: ['@photostructure/sqlite', 'serialport', '@serialport/*'],
    banner: {
      js: "import { createRequire as madeRequire } from 'node:module';const require = madeRequire(import.meta.url);",
    },
  });
  return { path, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

export const buildChild = (): ReturnType<typeof bundled> => bundled('tests/bench/records/child.ts');

export const must = <T>(result: Kept<T>): T => {
  if (result.ok) return result.value;
  throw new Error(troubleText(result.trouble));
};

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

export function exportOf(records: Records): Kept<readonly string[]> {
  const lines: string[] = [];
  const done = exportJobs(records, (line) => lines.push(line));
  return done.ok ? { ok: true, value: lines } : done;
}

/** All that a database shows: its export, and its list of jobs. */
export interface Shown {
  readonly lines: readonly string[];
  readonly list: string;
}

function shownBy(records: Records): Kept<Shown> {
  const list = records.list({});
  if (!list.ok) return list;
  const lines = exportOf(records);
  return lines.ok ? { ok: true, value: { lines: lines.value, list: JSON.stringify(list.value) } } : lines;
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

function damagedIn(home: Home): { readonly trouble: RecordsTrouble } | Shown {
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
async function broughtBack(path: string): Promise<readonly string[]> {
  const { folder, remove } = folderFor('back');
  const records = must(openRecords(homeOf({}, folder)));
  try {
    const text = readFileSync(path);
    must(
      await importJobs(
        records,
        (async function* () {
          yield text;
        })(),
      ),
    );
    return must(exportOf(records));
  } finally {
    records.close();
    remove();
  }
}

/** Damages a copy of a database, opens and reads it, and judges: either all of it is as it was, or the damage is said and set aside. */
export async function damageOnce(
  original: string,
  whole: Shown,
  damage: (bytes: Buffer) => Buffer,
): Promise<Outcome> {
  const { folder, remove } = folderFor('damage');
  try {
    const home = homeOf({}, join(folder, 'home'));
    mkdirSync(home.data, { recursive: true, mode: 0o700 });
    const bytes = damage(readFileSync(original));
    writeFileSync(home.database, bytes, { mode: 0o600 });
    const found = damagedIn(home);
    if ('lines' in found)
      return found.lines.join('\n') === whole.lines.join('\n') && found.list === whole.list
        ? { kind: 'unharmed' }
        : { kind: 'wrong', why: 'rows are missing or changed and nothing was said' };
    const { trouble } = found;
    if (trouble.kind !== 'damaged')
      return {
        kind: readFileSync(home.database).equals(bytes) ? 'refused' : 'wrong',
        why: troubleText(trouble),
      };
    if (!trouble.setAside || !existsSync(trouble.setAside))
      return { kind: 'wrong', why: 'it was not set aside' };
    if (!readFileSync(trouble.setAside).equals(bytes))
      return { kind: 'wrong', why: 'what was set aside is changed' };
    const back = trouble.salvage ? await broughtBack(trouble.salvage.path) : [];
    return within(back, whole.lines)
      ? { kind: 'said', trouble, back }
      : { kind: 'wrong', why: 'the salvage made something up' };
  } finally {
    remove();
  }
}

/** True where a child may have its own small disk: Linux namespaces, for root and mostly for others too. */
export const hasNamespaces = (): boolean =>
  spawnSync('unshare', ['--map-root-user', '--mount', 'true'], { stdio: 'ignore' }).status === 0;

/** A command inside its own namespace, after a script that prepares a disk on `folder` ("$1"). */
export const onOwnDisk = (script: string, folder: string, command: readonly string[]): Running =>
  start('unshare', [
    '--map-root-user',
    '--mount',
    'sh',
    '-ec',
    `${script}; shift; exec "$@"`,
    'sh',
    folder,
    ...command,
  ]);

/** A copy of a closed database in a new home. */
export function copyTo(original: string, home: Home): void {
  mkdirSync(dirname(home.database), { recursive: true, mode: 0o700 });
  copyFileSync(original, home.database);
}
