// `lidwright jobs`: lists, shows, changes, exports and imports jobs, and counts what their trials say.
import type { CommandSpec, ExitCode, OptionSpec, Output, Typed } from './command.ts';

const JSON_OPTION: OptionSpec = { flags: '--json', about: 'print one JSON object, lengths in mm' };
const JOB = { name: '<job>', about: 'its number, the start of its id, or part of its name' };

const LIST_OPTIONS: readonly OptionSpec[] = [
  { flags: '--open', about: 'only jobs that are still open' },
  { flags: '--closed', about: 'only closed jobs: those that run, were never tried or were given up' },
  { flags: '--removed', about: 'only removed jobs, which are hidden otherwise' },
  { flags: '--name <text>', about: 'part of the name' },
  { flags: '--wood <text>', about: 'part of the wood' },
  { flags: '--since <date>', about: 'changed on or after this day, such as 2026-03-01' },
  { flags: '--limit <count>', about: 'list up to this many jobs (default: 20)' },
  { flags: '--all', about: 'list every job' },
  { flags: '--json', about: 'print one JSON object: how many jobs there are, and those listed' },
];

type Run = (typed: Typed, output: Output) => Promise<ExitCode>;

/** A run whose module is loaded only when it is called, so that --help stays quick. */
const later =
  (load: () => Promise<Run>): Run =>
  async (typed, output) =>
    (await load())(typed, output);

const show: CommandSpec = {
  name: 'show',
  summary: 'show one job: sizes, fit, trials and notes',
  arguments: [JOB],
  options: [
    { flags: '--log', about: 'add how each figure was worked out, and every entry with its readings' },
    { flags: '--json', about: 'print one JSON object with everything, lengths in mm' },
  ],
  example: {
    line: 'jobs show 1 --json',
    shows: 'the first job with everything saved for it',
  },
  run: later(async () => (await import('./jobs/show.ts')).runShow),
};

const rename: CommandSpec = {
  name: 'rename',
  summary: 'rename a job',
  arguments: [JOB, { name: '<name>', about: 'the new name' }],
  options: [JSON_OPTION],
  example: {
    line: 'jobs rename 1 "Salt box, second lid"',
    shows: 'the job under its new name; the old name stays in its log',
  },
  run: later(async () => (await import('./jobs/change.ts')).runRename),
};

const undo: CommandSpec = {
  name: 'undo',
  summary: 'undo the last decision in a job; it stays in the log',
  arguments: [JOB],
  options: [JSON_OPTION],
  example: { line: 'jobs undo 1', shows: 'what was undone; run it again to go one further back' },
  run: later(async () => (await import('./jobs/change.ts')).runUndo),
};

const remove: CommandSpec = {
  name: 'remove',
  summary: 'remove a job from the list without deleting anything',
  arguments: [JOB],
  options: [JSON_OPTION],
  example: { line: 'jobs remove 1', shows: 'how to bring it back' },
  run: later(async () => (await import('./jobs/change.ts')).runRemove),
};

const restore: CommandSpec = {
  name: 'restore',
  summary: 'put a removed job back on the list',
  arguments: [JOB],
  options: [JSON_OPTION],
  example: { line: 'jobs restore 1', shows: 'the job on the list again' },
  run: later(async () => (await import('./jobs/change.ts')).runRestore),
};

const duplicate: CommandSpec = {
  name: 'duplicate',
  summary: 'start a new job with the setup of another one',
  arguments: [JOB, { name: '[name]', about: 'name of the new job' }],
  options: [JSON_OPTION],
  example: { line: 'jobs duplicate 1 "Salt box for Mia"', shows: 'a new job planned like the first' },
  run: later(async () => (await import('./jobs/change.ts')).runDuplicate),
};

const exporting: CommandSpec = {
  name: 'export',
  summary: 'export jobs as NDJSON for another bench or a backup, or readings as CSV',
  arguments: [{ name: '[job...]', about: 'jobs to export (all, removed ones too)' }],
  options: [
    { flags: '--csv', about: 'export the readings as CSV for a spreadsheet' },
    { flags: '--file <path>', about: 'write a new file instead of stdout' },
  ],
  example: {
    line: 'jobs export',
    shows: 'a header row, then each job in the order of its id: entries, each followed by its readings',
  },
  run: later(async () => (await import('./jobs/export.ts')).runExport),
};

const importing: CommandSpec = {
  name: 'import',
  summary: 'import an export; duplicates are ignored',
  arguments: [{ name: '<file>', about: 'an exported file, or - for standard input' }],
  options: [JSON_OPTION],
  example: {
    line: 'jobs import -',
    shows: 'how many entries and readings were added from standard input, and which lines were refused',
  },
  run: later(async () => (await import('./jobs/import.ts')).runImport),
};

const statistics: CommandSpec = {
  name: 'statistics',
  summary:
    'show how many lids ran at the first trial, by setup, and how far clearances were from the computed ones',
  options: [JSON_OPTION],
  example: {
    line: 'jobs statistics',
    shows: 'a table with a small chart',
  },
  run: later(async () => (await import('./jobs/statistics.ts')).runStatistics),
};

export const jobsCommand: CommandSpec = {
  name: 'jobs',
  summary: 'list, show, rename, undo, remove, restore, duplicate, export and import jobs; show statistics',
  options: LIST_OPTIONS,
  example: { line: 'jobs --open --json', shows: 'the jobs that are still open, newest first' },
  sub: [show, rename, undo, remove, restore, duplicate, exporting, importing, statistics],
  run: later(async () => (await import('./jobs/list.ts')).runList),
};
