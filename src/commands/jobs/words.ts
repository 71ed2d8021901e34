// A job in one line of words and as a plain object with its lengths in mm; each kind of entry as a short sentence.
import { type Fact, shortId } from '../../core/bench/entry.ts';
import { chasedText } from '../../core/bench/threads.ts';
import { pitchText } from '../../core/bench/typed-quantity.ts';
import { ago, band, counted, cutFigure, figure, fineFigure, lengthFigure } from '../../core/figures.ts';
import { forScreen } from '../../core/safe-text.ts';
import { inPart } from '../../core/thread/pair.ts';
import { inDegrees, type Length, type LengthUnit } from '../../core/units.ts';
import type { JobSummary } from '../../records/list.ts';
import { byKind, VOID_WORDS } from '../../screen/words.ts';

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

/** Joined by commas up to this many columns; the first part always stays. */
function within(parts: readonly string[], columns: number): string {
  const [first = '', ...rest] = parts;
  return rest.reduce(
    (line, part) => (line.length + part.length + 2 <= columns ? `${line}, ${part}` : line),
    first,
  );
}

/** One job in one line, safe to show: its number, name, state, what it measures, and as much more as fits. */
export function jobLine(job: JobSummary, now: number, columns = Number.POSITIVE_INFINITY): string {
  const number = String(job.number).padStart(4);
  const name = forScreen(job.name, NAME_COLUMNS).padEnd(NAME_COLUMNS);
  const more = [trialsOf(job), ago(now - job.touched), forScreen(job.wood ?? '', 24)].filter(
    (part) => part !== '',
  );
  return within([`${number}  ${name}  ${statusOf(job).padEnd(12)}  ${diametersOf(job)}`, ...more], columns);
}

const LONG = 400;
const AS_PLANNED = 'with threads of the planned depth';

const besides = (size: Length | undefined, where: string, unit: LengthUnit): string =>
  size === undefined ? '' : `, ${lengthFigure(size, unit)} ${where}`;
const orNothing = (value: Length | null, unit: LengthUnit): string =>
  value === null ? 'not known' : fineFigure(value, unit);

/** What a fact says, safe to show. */
export const factWords = byKind<Fact, string, [unit: LengthUnit]>({
  'job-begun': ({ setup }) =>
    `started: ${forScreen(setup.name)}, ${pitchText(setup.pitch)}, ${forScreen(setup.wood ?? 'wood not named')}`,
  'setup-changed': ({ setup }) => `setup changed: ${forScreen(setup.name)}, ${pitchText(setup.pitch)}`,
  'stage-entered': ({ stage }) => `stage: ${stage}`,
  'zero-taken': ({ error, applied }, unit) =>
    `zero error ${lengthFigure(error, unit)}, ${applied ? 'subtracted' : 'not subtracted'}`,
  'ring-taken': ({ known, measured, land }, unit) =>
    `ring of ${lengthFigure(known, unit)} read ${lengthFigure(measured, unit)}: jaw land ${lengthFigure(land, unit)}`,
  'hollow-measured': ({ where, diameter, how }, unit) =>
    `hollow at the ${where}: ${lengthFigure(diameter, unit)} (${how})`,
  'bore-taken': ({ diameter, how, agreeing, tops, spread, standard, across }, unit) =>
    `bore ${lengthFigure(diameter, unit)} (${how}), ${agreeing} of ${counted(tops, 'peak')} agree, spread ${orNothing(spread, unit)}, standard uncertainty ${orNothing(standard, unit)}${besides(across, 'a quarter turn round', unit)}`,
  'capture-doubted': ({ stage, reason }) => `reading doubtful at ${stage}: ${forScreen(reason, LONG)}`,
  'target-set': ({ target, asPlanned, low, high }, unit) =>
    `target ${cutFigure(target, unit)} ${unit}, ${asPlanned ? AS_PLANNED : `runs from ${band(low, high, unit)}`}`,
  'spigot-taken': ({ diameter, how, across, end, fit, clearance, asPlanned }, unit) =>
    `spigot ${lengthFigure(diameter, unit)} (${how})${besides(across, 'a quarter turn round', unit)}${besides(end, 'at its end', unit)}: ${fit}, clearance ${lengthFigure(clearance, unit)}${asPlanned ? ` ${AS_PLANNED}` : ''}`,
  'touched-off': ({ part, mark }) => `touched off ${inPart(part)} at count ${mark.total}`,
  'feed-counted': ({ part, mark }) => `feed ${inPart(part)} at count ${mark.total}`,
  'depth-voided': ({ part, why }) => `depth ${inPart(part)} void: ${VOID_WORDS[why]}`,
  'thread-cut': ({ part, depth, detents, proven }, unit) =>
    `thread cut ${inPart(part)}: depth ${fineFigure(depth, unit)}${detents === null ? '' : `, ${counted(detents, 'detent')}`}${proven ? '' : ', not confirmed by the count'}`,
  stroke: ({ part }) => `stroke ${inPart(part)}`,
  'thread-chased': (fact, unit) => `thread chased ${inPart(fact.part)}: ${chasedText(fact, unit)}`,
  'crests-measured': ({ diameter, how }, unit) =>
    `spigot over the crests of its thread ${lengthFigure(diameter, unit)} (${how})`,
  hardened: ({ part }) => `hardened ${inPart(part)}`,
  'trial-made': ({ verdict, clearance }, unit) =>
    `trial: ${verdict}; computed clearance ${orNothing(clearance, unit)}`,
  'crests-relieved': ({ part }) => `crests relieved ${inPart(part)}`,
  'grain-seen': ({ angle, trim, part }, unit) =>
    `grain ${inDegrees(angle).toFixed(0)} degrees short: take ${fineFigure(trim, unit)} off the shoulder of the ${part}`,
  'note-added': ({ text }) => `note: ${forScreen(text, LONG)}`,
  'job-renamed': ({ name }) => `renamed: ${forScreen(name)}`,
  'job-closed': ({ how }) =>
    `closed: ${how === 'runs' ? 'it runs' : how === 'untried' ? 'never tried' : 'given up'}`,
  'job-reopened': 'reopened',
  'job-removed': 'removed',
  'job-restored': 'restored',
  undone: ({ entry }) => `undone: ${shortId(entry)}`,
});
