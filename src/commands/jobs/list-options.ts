// What the list of jobs can be asked; apart from the list itself, so that --help loads nothing else.
import type { OptionSpec } from '../command.ts';

export const LIST_OPTIONS: readonly OptionSpec[] = [
  { flags: '--open', about: 'only jobs that are still open' },
  { flags: '--closed', about: 'only jobs that run or were given up' },
  { flags: '--removed', about: 'only removed jobs; they are left out otherwise' },
  { flags: '--name <text>', about: 'part of the name' },
  { flags: '--wood <text>', about: 'part of the wood' },
  { flags: '--since <date>', about: 'touched on or after this day, such as 2026-03-01' },
  { flags: '--limit <count>', about: 'at most so many (20)' },
  { flags: '--all', about: 'every one of them' },
  { flags: '--json', about: 'one JSON object: how many there are, and those listed' },
];
