// Record: everything the job holds, the grain's alignment, notes, and the closing.
import { boreDoubt } from '../../core/bench/doubt.ts';
import type { Job } from '../../core/bench/job.ts';
import type { Part } from '../../core/bench/setup.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { comparedWithTruth } from '../../core/bench/teaching.ts';
import { chasedText } from '../../core/bench/threads.ts';
import { lengthFigure, pitchFigure, withDoubt } from '../../core/figures.ts';
import { inDegrees, type LengthUnit, mm } from '../../core/units.ts';
import { closedRecordKeys, openRecordKeys } from '../keymap.ts';
import type { Table } from '../panels/lists.ts';
import { type Big, type Figure, MARKS, type Standing } from '../scene.ts';
import { safe } from '../text.ts';
import { fitName, looseness, MISHAP_NAMES } from '../words.ts';
import { factsFrom, type StageScene, standingLine } from './scene-parts.ts';

export function recordScene(bench: WithJob): StageScene {
  const { job } = bench;
  return {
    big: bigOf(job),
    standing: standingOf(job),
    facts: grainFacts(bench),
    panel: { kind: 'table', rows: rowsOf(bench) },
    next: nextStep(job),
    keys: job.closed ? closedRecordKeys : openRecordKeys,
  };
}

function bigOf({ closed, trials }: Job): Big {
  const runs = closed ? closed.how === 'runs' : trials.at(-1)?.verdict === 'running';
  return {
    text: runs ? 'RUNS' : closed ? 'CLOSED' : 'OPEN',
    unit: '',
    label: closed ? 'this job is closed' : 'this job is open',
    style: runs ? 'at' : closed ? 'quiet' : 'value',
  };
}

function standingOf(job: Job): Standing {
  const last = job.trials.at(-1);
  const kept = job.closed ? '; everything is kept' : '';
  if (!last) return standingLine(MARKS.open, 'UNTRIED', `the pair was not tried${kept || ' yet'}`, 'quiet');
  const about = `at trial ${job.trials.length}${kept}`;
  if (job.closed?.how === 'runs') return standingLine(MARKS.full, 'CLOSED', `runs ${about}`, 'good');
  return last.verdict === 'running'
    ? standingLine(MARKS.full, 'RUNS', about, 'good')
    : standingLine(MARKS.half, last.verdict.toUpperCase(), about, 'near');
}

function grainFacts({ job: { grain }, unit }: WithJob): readonly Figure[] {
  if (!grain) return [];
  const angle = `${Math.round(inDegrees(grain.angle))} degrees to go`;
  const value = `${angle}: ${lengthFigure(grain.trim, unit)} off the ${grain.part}'s shoulder`;
  return [{ name: 'grain', value }];
}

function rowsOf(bench: WithJob): Table['rows'] {
  const truth = truthRows(bench);
  if (truth.length > 0) return truth;
  const { unit, job, teaching } = bench;
  const { bore, spigot, zero, closed } = job;
  const boreHalf = mm(boreDoubt(job)?.expanded95 ?? 0);
  const isForgotten = closed !== null && teaching?.truth === null;
  const rows = [
    ...factsFrom({
      bore: bore && `${withDoubt(bore.diameter, boreHalf, unit)}, ${bore.how}`,
      spigot: spigot && spigotWords(job, spigot, unit),
      'bore thread': threadWords(job, 'female', unit),
      'spigot thread': threadWords(job, 'male', unit),
    }),
    ...job.trials.map(({ verdict, relieved }, at) => ({
      name: `trial ${at + 1}`,
      value: relieved ? `${verdict}, then crests relieved` : verdict,
      strong: verdict === 'running',
    })),
    ...factsFrom({
      zero: zero && `${lengthFigure(zero.error, unit)} taken off`,
      truth: isForgotten ? 'not known: the wood was on an earlier virtual bench' : null,
    }),
    ...job.notes.map((note) => ({ name: 'note', value: safe(note) })),
  ];
  return rows.length > 0 ? rows : [{ name: 'record', value: 'nothing kept yet' }];
}

/** At the end of a job on the virtual bench: the true sizes beside the kept ones, and what the difference did to the fit. */
function truthRows({ teaching, unit, job }: WithJob): Table['rows'] {
  const compared = job.closed && teaching?.truth ? comparedWithTruth(job, teaching.truth) : null;
  if (!compared || !teaching) return [];
  const { bore, spigot, depth, computed, real } = compared;
  const beside = (sizes: typeof depth.female): string | null =>
    sizes && `kept ${lengthFigure(sizes.kept, unit)}, truly ${lengthFigure(sizes.real, unit)}`;
  const outcome = (of: typeof real): string =>
    of.kind === 'outcome'
      ? `${lengthFigure(looseness(job.setup, of.clearance).value, unit)} (${fitName(job.setup, of.word)})`
      : 'no fit';
  const { name } = looseness(job.setup, real.kind === 'outcome' ? real.clearance : mm(0));
  const wrong = teaching.mishaps.map((mishap) => MISHAP_NAMES[mishap]).join(', ');
  return [
    { name, value: `computed ${outcome(computed)}, truly ${outcome(real)}`, strong: true },
    ...factsFrom({
      'why no fit': real.kind === 'no-fit' ? real.why : computed.kind === 'no-fit' ? computed.why : null,
      bore: beside(bore),
      spigot: beside(spigot),
      'went wrong': wrong || null,
      'bore groove': beside(depth.female),
      'spigot groove': beside(depth.male),
    }),
  ];
}

function spigotWords({ setup }: Job, spigot: NonNullable<Job['spigot']>, unit: LengthUnit): string {
  const { diameter, turned, asPlanned, fit } = spigot;
  if (turned !== undefined)
    return `${lengthFigure(diameter, unit)} over its crests, turned to ${lengthFigure(turned, unit)}`;
  const computed = asPlanned ? 'its fit by trial' : `computed fit ${fitName(setup, fit)}`;
  return `${lengthFigure(diameter, unit)}, ${computed}`;
}

function threadWords({ threads, setup }: Job, part: Part, unit: LengthUnit): string | null {
  const { cut, chased } = threads[part];
  const pitch = pitchFigure(setup.pitch);
  if (chased) return `${pitch}, ${chasedText(chased, unit)}`;
  if (!cut) return null;
  const detents = cut.detents === null ? 'typed' : `${cut.detents} detents`;
  return `${pitch}, ${lengthFigure(cut.depth, unit)} deep, ${detents}${cut.proven ? '' : ', not proven'}`;
}

function nextStep(job: Job): string {
  if (job.closed) return 'Press s for the job sheet, w for a new job, q to leave.';
  return 'Type the degrees left to turn until the grain lines up. Press Enter alone to close the job.';
}
