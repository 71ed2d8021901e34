// `lidwright jobs`: lists, shows, changes, exports and imports jobs, and counts what their trials say.
import type { CommandSpec, OptionSpec } from './command.ts';

const JSON_OPTION: OptionSpec = { flags: '--json', about: 'print one JSON object, lengths in mm' };
const JOB = { name: '<job>', about: 'its number, the start of its id, or part of its name' };

const changes = () => import('./jobs/change.ts');

const subs: readonly CommandSpec[] = [
  {
    name: 'show',
    summary: 'show one job: sizes, fit, trials and notes',
    arguments: [JOB],
    options: [
      { flags: '--log', about: 'add how each figure was worked out, and every entry with its readings' },
      { flags: '--json', about: 'print one JSON object with everything, lengths in mm' },
    ],
    example: { line: 'jobs show 1 --json', shows: 'the first job with everything saved for it' },
    run: async (typed, output) => (await import('./jobs/show.ts')).runShow(typed, output),
  },
  {
    name: 'rename',
    summary: 'rename a job',
    arguments: [JOB, { name: '<name>', about: 'the new name' }],
    options: [JSON_OPTION],
    example: {
      line: 'jobs rename 1 "Salt box, second lid"',
      shows: 'the job under its new name; the old name stays in its log',
    },
    run: async (typed, output) => (await changes()).runRename(typed, output),
  },
  {
    name: 'undo',
    summary: 'undo the last decision in a job; it stays in the log',
    arguments: [JOB],
    options: [JSON_OPTION],
    example: { line: 'jobs undo 1', shows: 'what was undone; run it again to go one further back' },
    run: async (typed, output) => (await changes()).runUndo(typed, output),
  },
  {
    name: 'remove',
    summary: 'remove a job from the list without deleting anything',
    arguments: [JOB],
    options: [JSON_OPTION],
    example: { line: 'jobs remove 1', shows: 'how to bring it back' },
    run: async (typed, output) => (await changes()).runRemove(typed, output),
  },
  {
    name: 'restore',
    summary: 'put a removed job back on the list',
    arguments: [JOB],
    options: [JSON_OPTION],
    example: { line: 'jobs restore 1', shows: 'the job on the list again' },
    run: async (typed, output) => (await changes()).runRestore(typed, output),
  },
  {
    name: 'duplicate',
    summary: 'start a new job with the setup of another one',
    arguments: [JOB, { name: '[name]', about: 'name of the new job' }],
    options: [JSON_OPTION],
    example: { line: 'jobs duplicate 1 "Salt box for Mia"', shows: 'a new job planned like the first' },
    run: async (typed, output) => (await changes()).runDuplicate(typed, output),
  },
  {
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
    run: async (typed, output) => (await import('./jobs/export.ts')).runExport(typed, output),
  },
  {
    name: 'import',
    summary: 'import an export; duplicates are ignored',
    arguments: [{ name: '<file>', about: 'an exported file, or - for standard input' }],
    options: [JSON_OPTION],
    example: {
      line: 'jobs import -',
      shows: 'how many entries and readings were added from standard input, and which lines were refused',
    },
    run: async (typed, output) => (await import('./jobs/import.ts')).runImport(typed, output),
  },
  {
    name: 'statistics',
    summary:
      'show how many lids ran at the first trial, by setup, and how far clearances were from the computed ones',
    options: [JSON_OPTION],
    example: { line: 'jobs statistics', shows: 'a table with a small chart' },
    run: async (typed, output) => (await import('./jobs/statistics.ts')).runStatistics(typed, output),
  },
];

export const jobsCommand: CommandSpec = {
  name: 'jobs',
  summary: 'list, show, rename, undo, remove, restore, duplicate, export and import jobs; show statistics',
  options: [
    { flags: '--open', about: 'only jobs that are still open' },
    { flags: '--closed', about: 'only closed jobs: those that run, were never tried or were given up' },
    { flags: '--removed', about: 'only removed jobs, which are hidden otherwise' },
    { flags: '--name <text>', about: 'part of the name' },
    { flags: '--wood <text>', about: 'part of the wood' },
    { flags: '--since <date>', about: 'changed on or after this day, such as 2026-03-01' },
    { flags: '--limit <count>', about: 'list up to this many jobs (default: 20)' },
    { flags: '--all', about: 'list every job' },
    { flags: '--json', about: 'print one JSON object: how many jobs there are, and those listed' },
  ],
  example: { line: 'jobs --open --json', shows: 'the jobs that are still open, newest first' },
  sub: subs,
  run: async (typed, output) => (await import('./jobs/list.ts')).runList(typed, output),
};
