// `lidwright jobs`: what was made and what was learned; list, show, change, export, import, count.
import type { CommandSpec, ExitCode, OptionSpec, Output, Typed } from './command.ts';
import { LIST_OPTIONS } from './jobs/list-options.ts';

const JSON_OPTION: OptionSpec = { flags: '--json', about: 'one JSON object, lengths in mm' };
const JOB = { name: '<job>', about: 'its number, the beginning of its id, or part of its name' };

type Run = (typed: Typed, output: Output) => Promise<ExitCode>;

/** A run whose module is loaded only when it is called, so that --help stays quick. */
const later =
  (load: () => Promise<Run>): Run =>
  async (typed, output) =>
    (await load())(typed, output);

const show: CommandSpec = {
  name: 'show',
  summary: 'One job with every reading, and how each figure came to be.',
  arguments: [JOB],
  options: [JSON_OPTION],
  example: {
    line: 'jobs show 1 --json',
    shows: 'the first job of this bench with everything kept of it; says so when there is none',
  },
  run: later(async () => (await import('./jobs/show.ts')).runShow),
};

const rename: CommandSpec = {
  name: 'rename',
  summary: 'Give a job another name.',
  arguments: [JOB, { name: '<name>', about: 'the new name' }],
  options: [JSON_OPTION],
  example: {
    line: 'jobs rename 1 "Salt box, second lid"',
    shows: 'the job under its new name; the old one stays in its log',
  },
  run: later(async () => (await import('./jobs/change.ts')).runRename),
};

const undo: CommandSpec = {
  name: 'undo',
  summary: 'Take back the last thing decided in a job; it stays in the log.',
  arguments: [JOB],
  options: [JSON_OPTION],
  example: { line: 'jobs undo 1', shows: 'what was taken back; again goes one further back' },
  run: later(async () => (await import('./jobs/change.ts')).runUndo),
};

const remove: CommandSpec = {
  name: 'remove',
  summary: 'Take a job off the list; nothing of it is lost.',
  arguments: [JOB],
  options: [JSON_OPTION],
  example: { line: 'jobs remove 1', shows: 'how to bring it back' },
  run: later(async () => (await import('./jobs/change.ts')).runRemove),
};

const restore: CommandSpec = {
  name: 'restore',
  summary: 'Put a removed job back on the list.',
  arguments: [JOB],
  options: [JSON_OPTION],
  example: { line: 'jobs restore 1', shows: 'the job on the list again' },
  run: later(async () => (await import('./jobs/change.ts')).runRestore),
};

const duplicate: CommandSpec = {
  name: 'duplicate',
  summary: 'Begin a new job with the setup of another, nothing cut.',
  arguments: [JOB, { name: '[name]', about: 'a name for the new job' }],
  options: [JSON_OPTION],
  example: { line: 'jobs duplicate 1 "Salt box for Mia"', shows: 'a new job planned like the first' },
  run: later(async () => (await import('./jobs/change.ts')).runDuplicate),
};

const exporting: CommandSpec = {
  name: 'export',
  summary: 'Every job, or some, as NDJSON for another bench or a safe place; readings as CSV.',
  arguments: [{ name: '[job...]', about: 'only these; all of them, removed ones too, when none is named' }],
  options: [
    { flags: '--csv', about: 'the readings as CSV for a spreadsheet' },
    { flags: '--file <path>', about: 'write this file, which must not be there yet, instead of stdout' },
  ],
  example: {
    line: 'jobs export',
    shows: 'a header row, then each job in the order of its id: entries, each followed by its readings',
  },
  run: later(async () => (await import('./jobs/export.ts')).runExport),
};

const importing: CommandSpec = {
  name: 'import',
  summary: 'Merge an export into this bench; repeated or overlapping, nothing comes twice.',
  arguments: [{ name: '<file>', about: 'an export, or - for standard input' }],
  options: [JSON_OPTION],
  example: {
    line: 'jobs import -',
    shows: 'from standard input: how many entries and readings were added, and each line that was refused',
  },
  run: later(async () => (await import('./jobs/import.ts')).runImport),
};

const statistics: CommandSpec = {
  name: 'statistics',
  summary: 'By setup: how many first trials ran, and how far clearances come out from the computed ones.',
  options: [JSON_OPTION],
  example: {
    line: 'jobs statistics',
    shows: 'a table with a small chart; says so when no job has a trial yet',
  },
  run: later(async () => (await import('./jobs/statistics.ts')).runStatistics),
};

export const jobsCommand: CommandSpec = {
  name: 'jobs',
  summary:
    'List, show, rename, undo, remove, restore, duplicate, export and import jobs; statistics over them.',
  options: LIST_OPTIONS,
  example: { line: 'jobs --open --json', shows: 'the jobs that are still open, newest first' },
  sub: [show, rename, undo, remove, restore, duplicate, exporting, importing, statistics],
  run: later(async () => (await import('./jobs/list.ts')).runList),
};
