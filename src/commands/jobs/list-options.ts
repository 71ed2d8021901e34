// What the list of jobs can be asked; apart from the list itself, so that --help loads nothing else.
import type { OptionSpec } from '../command.ts';

export const LIST_OPTIONS: readonly OptionSpec[] = [
  { flags: '--open', about: 'only jobs that are still open' },
  { flags: '--closed', about: 'only jobs that run or were given up' },
  { flags: '--removed', about: 'only removed jobs' },
  { flags: '--name <text>', about: 'only jobs with this in their name' },
  { flags: '--wood <text>', about: 'only jobs with this in their wood' },
  { flags: '--since <date>', about: 'only jobs used on or after this day, such as 2026-03-01' },
  { flags: '--limit <count>', about: 'list at most this many (20)' },
  { flags: '--all', about: 'list every job' },
  { flags: '--json', about: 'print one JSON object: how many there are, and those listed' },
];
