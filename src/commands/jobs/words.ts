// A job in one line of words and as a plain object with its lengths in mm; each kind of entry as a short sentence.
import { type Fact, shortId } from '../../core/bench/entry.ts';
import { chasedText } from '../../core/bench/threads.ts';
import { pitchText } from '../../core/bench/typed-quantity.ts';
import { ago, band, counted, cutFigure, figure, fineFigure, lengthFigure } from '../../core/figures.ts';
import { forScreen } from '../../core/safe-text.ts';
import { inPart } from '../../core/thread/pair.ts';
import { inDegrees, type Length, type LengthUnit } from '../../core/units.ts';
import type { JobSummary } from '../../records/list.ts';
import { VOID_WORDS } from '../../screen/words.ts';

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

/** What a fact says, safe to show. */
export function factWords(fact: Fact, unit: LengthUnit): string {
  const of = (value: Length): string => lengthFigure(value, unit);
  const fine = (value: Length): string => fineFigure(value, unit);
  const orNothing = (value: Length | null): string => (value === null ? 'not known' : fine(value));
  const besides = (size: Length | undefined, where: string): string =>
    size === undefined ? '' : `, ${of(size)} ${where}`;
  switch (fact.kind) {
    case 'job-begun':
      return `started: ${forScreen(fact.setup.name)}, ${pitchText(fact.setup.pitch)}, ${forScreen(fact.setup.wood ?? 'wood not named')}`;
    case 'setup-changed':
      return `setup changed: ${forScreen(fact.setup.name)}, ${pitchText(fact.setup.pitch)}`;
    case 'stage-entered':
      return `stage: ${fact.stage}`;
    case 'zero-taken':
      return `zero error ${of(fact.error)}, ${fact.applied ? 'subtracted' : 'not subtracted'}`;
    case 'ring-taken':
      return `ring of ${of(fact.known)} read ${of(fact.measured)}: jaw land ${of(fact.land)}`;
    case 'hollow-measured':
      return `hollow at the ${fact.where}: ${of(fact.diameter)} (${fact.how})`;
    case 'bore-taken':
      return `bore ${of(fact.diameter)} (${fact.how}), ${fact.agreeing} of ${counted(fact.tops, 'peak')} agree, spread ${orNothing(fact.spread)}, standard uncertainty ${orNothing(fact.standard)}${besides(fact.across, 'a quarter turn round')}`;
    case 'capture-doubted':
      return `reading doubtful at ${fact.stage}: ${forScreen(fact.reason, LONG)}`;
    case 'target-set':
      return `target ${cutFigure(fact.target, unit)} ${unit}, ${fact.asPlanned ? AS_PLANNED : `runs from ${band(fact.low, fact.high, unit)}`}`;
    case 'spigot-taken':
      return `spigot ${of(fact.diameter)} (${fact.how})${besides(fact.across, 'a quarter turn round')}${besides(fact.end, 'at its end')}: ${fact.fit}, clearance ${of(fact.clearance)}${fact.asPlanned ? ` ${AS_PLANNED}` : ''}`;
    case 'touched-off':
      return `touched off ${inPart(fact.part)} at count ${fact.mark.total}`;
    case 'feed-counted':
      return `feed ${inPart(fact.part)} at count ${fact.mark.total}`;
    case 'depth-voided':
      return `depth ${inPart(fact.part)} void: ${VOID_WORDS[fact.why]}`;
    case 'thread-cut':
      return `thread cut ${inPart(fact.part)}: depth ${fine(fact.depth)}${fact.detents === null ? '' : `, ${counted(fact.detents, 'detent')}`}${fact.proven ? '' : ', not confirmed by the count'}`;
    case 'stroke':
      return `stroke ${inPart(fact.part)}`;
    case 'thread-chased':
      return `thread chased ${inPart(fact.part)}: ${chasedText(fact, unit)}`;
    case 'crests-measured':
      return `spigot over the crests of its thread ${of(fact.diameter)} (${fact.how})`;
    case 'hardened':
      return `hardened ${inPart(fact.part)}`;
    case 'trial-made':
      return `trial: ${fact.verdict}; computed clearance ${orNothing(fact.clearance)}`;
    case 'crests-relieved':
      return `crests relieved ${inPart(fact.part)}`;
    case 'grain-seen':
      return `grain ${inDegrees(fact.angle).toFixed(0)} degrees short: take ${fine(fact.trim)} off the shoulder of the ${fact.part}`;
    case 'note-added':
      return `note: ${forScreen(fact.text, LONG)}`;
    case 'job-renamed':
      return `renamed: ${forScreen(fact.name)}`;
    case 'job-closed':
      return `closed: ${fact.how === 'runs' ? 'it runs' : fact.how === 'untried' ? 'never tried' : 'given up'}`;
    case 'job-reopened':
      return 'reopened';
    case 'job-removed':
      return 'removed';
    case 'job-restored':
      return 'restored';
    case 'undone':
      return `undone: ${shortId(fact.entry)}`;
    default:
      return fact satisfies never;
  }
}
