// Jobs in a line of words, and as plain objects with their lengths in mm.

import { ago, figure, lengthFigure } from '../../core/figures.ts';
import { forScreen } from '../../core/safe-text.ts';
import type { JobSummary } from '../../records/list.ts';

const NAME_COLUMNS = 22;

export const jobObject = (job: JobSummary): object => ({
  number: job.number,
  id: job.id,
  name: job.name,
  begunMs: job.begun,
  touchedMs: job.touched,
  stage: job.stage,
  status: job.status,
  removed: job.removed,
  wood: job.wood,
  unit: job.unit,
  fit: job.fit,
  boreMm: job.bore,
  targetMm: job.target,
  spigotMm: job.spigot,
  clearanceMm: job.clearance,
  expected: job.word,
  trials: job.trials,
  verdict: job.verdict,
});

const statusOf = ({ removed, status, stage }: JobSummary): string => {
  if (removed) return 'removed';
  if (status === 'open') return `at ${stage}`;
  return status === 'runs' ? 'runs' : status === 'untried' ? 'closed untried' : 'given up';
};

function diametersOf({ bore, spigot, target, unit }: JobSummary): string {
  if (bore === null) return 'no bore yet';
  const at = `bore ${figure(bore, unit)}`;
  if (spigot !== null) return `${at}, spigot ${lengthFigure(spigot, unit)}`;
  return target === null ? `${at} ${unit}` : `${at}, target ${lengthFigure(target, unit)}`;
}

const trialsOf = ({ trials, verdict }: JobSummary): string =>
  trials === 0 ? '' : `${trials === 1 ? 'first trial' : `trial ${trials}`} ${verdict ?? ''}`.trimEnd();

/** Set apart by commas as far as the columns reach; the first always stands. */
function within(parts: readonly string[], columns: number): string {
  const [first = '', ...rest] = parts;
  return rest.reduce(
    (line, part) => (line.length + part.length + 2 <= columns ? `${line}, ${part}` : line),
    first,
  );
}

/** One job in one line, safe to show: its number, name, state, what it measures, and as much more as there is room for. */
export function jobLine(job: JobSummary, now: number, columns = Number.POSITIVE_INFINITY): string {
  const number = String(job.number).padStart(4);
  const name = forScreen(job.name, NAME_COLUMNS).padEnd(NAME_COLUMNS);
  const more = [trialsOf(job), ago(now - job.touched), forScreen(job.wood ?? '', 24)].filter(
    (part) => part !== '',
  );
  return within([`${number}  ${name}  ${statusOf(job).padEnd(12)}  ${diametersOf(job)}`, ...more], columns);
}
