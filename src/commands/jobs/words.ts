// Jobs in a line of words, and as plain objects with their lengths in mm.
import type { JobSummary } from '../../records/list.ts';
import { ago, figure, lengthFigure } from '../../screen/figures.ts';
import { safeText } from '../../wire/safe.ts';

const NAME_COLUMNS = 28;

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
  trials === 0 ? '' : `, ${trials === 1 ? 'first trial' : `trial ${trials}`} ${verdict ?? ''}`.trimEnd();

/** One job in one line, safe to show: its number, name, state, what it measures, and when it was touched. */
export function jobLine(job: JobSummary, now: number): string {
  const number = String(job.number).padStart(4);
  const name = safeText(job.name, NAME_COLUMNS).padEnd(NAME_COLUMNS);
  const wood = job.wood === null ? '' : `, ${safeText(job.wood, 24)}`;
  return `${number}  ${name}  ${statusOf(job).padEnd(16)}  ${diametersOf(job)}${trialsOf(job)}${wood}, ${ago(now - job.touched)}`;
}
