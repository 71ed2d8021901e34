// Record: everything the job holds, the grain's alignment, notes, and the closing.
import { boreDoubt } from '../../core/bench/doubt.ts';
import type { Job } from '../../core/bench/job.ts';
import type { Bench } from '../../core/bench/state.ts';
import { comparedWithTruth } from '../../core/bench/teaching.ts';
import { chasedText } from '../../core/bench/threads.ts';
import { lengthFigure, pitchFigure, withDoubt } from '../../core/figures.ts';
import { PARTS, partWord } from '../../core/thread/pair.ts';
import { inDegrees, mm } from '../../core/units.ts';
import { closedRecordKeys, openRecordKeys } from '../key-table.ts';
import type { Table } from '../panels/table.ts';
import { type Big, type Figure, MARKS, type Scene, type Standing } from '../scene.ts';
import { safe } from '../text.ts';
import { fitName, looseness, MISHAP_NAMES } from '../words.ts';
import { standingLine } from './scene-parts.ts';

export function recordScene(bench: Bench, job: Job): Scene {
  return {
    title: 'record',
    big: bigOf(job),
    standing: standingOf(job),
    facts: grainFacts(bench, job),
    panel: { kind: 'table', table: tableOf(bench, job) },
    next: nextStep(job),
    caution: null,
    keys: job.closed ? closedRecordKeys : openRecordKeys,
    typing: null,
  };
}

const CLOSED = { runs: 'RUNS', 'given-up': 'CLOSED', untried: 'CLOSED' } as const;

function bigOf(job: Job): Big {
  const last = job.trials.at(-1);
  const label = job.closed ? 'this job is closed' : 'this job is open';
  if (job.closed)
    return {
      text: CLOSED[job.closed.how],
      unit: '',
      label,
      style: job.closed.how === 'runs' ? 'at' : 'quiet',
    };
  return last?.verdict === 'running'
    ? { text: 'RUNS', unit: '', label, style: 'at' }
    : { text: 'OPEN', unit: '', label, style: 'value' };
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

function grainFacts(bench: Bench, job: Job): readonly Figure[] {
  const { grain } = job;
  if (!grain) return [];
  const angle = `${Math.round(inDegrees(grain.angle))} degrees to go`;
  return [
    {
      name: 'grain',
      value: `${angle}: ${lengthFigure(grain.trim, bench.unit)} off the ${grain.part}'s shoulder`,
    },
  ];
}

function tableOf(bench: Bench, job: Job): Table {
  const { unit } = bench;
  const truth = truthRows(bench, job);
  if (truth.length > 0) return { rows: truth };
  const rows = [
    ...boreRows(job, unit),
    ...(job.spigot
      ? [
          {
            name: 'spigot',
            value: spigotWords(job, job.spigot, unit),
          },
        ]
      : []),
    ...threadRows(job, unit),
    ...job.trials.map(({ verdict, relieved }, at) => ({
      name: `trial ${at + 1}`,
      value: relieved ? `${verdict}, then crests relieved` : verdict,
      strong: verdict === 'running',
    })),
    ...(job.zero ? [{ name: 'zero', value: `${lengthFigure(job.zero.error, unit)} taken off` }] : []),
    ...(job.closed && bench.teaching?.truth === null
      ? [{ name: 'truth', value: 'not known: the wood was on an earlier virtual bench' }]
      : []),
    ...job.notes.map((note) => ({ name: 'note', value: safe(note) })),
  ];
  return { rows: rows.length > 0 ? rows : [{ name: 'record', value: 'nothing kept yet' }] };
}

/** At the end of a job on the virtual bench: the true sizes beside the kept ones, and what the difference did to the fit. */
function truthRows({ teaching, unit }: Bench, job: Job): Table['rows'] {
  const compared = job.closed && teaching?.truth ? comparedWithTruth(job, teaching.truth) : null;
  if (!compared || !teaching) return [];
  const { bore, spigot, depth, computed, real } = compared;
  const beside = (name: string, sizes: typeof depth.female): Table['rows'] =>
    sizes
      ? [{ name, value: `kept ${lengthFigure(sizes.kept, unit)}, truly ${lengthFigure(sizes.real, unit)}` }]
      : [];
  const outcome = (of: typeof real): string =>
    of
      ? `${lengthFigure(looseness(job.setup, of.clearance).value, unit)} (${fitName(job.setup, of.word)})`
      : 'no fit';
  const { name } = looseness(job.setup, real?.clearance ?? mm(0));
  const wrong = teaching.mishaps.map((mishap) => MISHAP_NAMES[mishap]).join(', ');
  return [
    { name, value: `computed ${outcome(computed)}, truly ${outcome(real)}`, strong: true },
    ...beside('bore', bore),
    ...beside('spigot', spigot),
    ...(wrong === '' ? [] : [{ name: 'went wrong', value: wrong }]),
    ...beside('bore groove', depth.female),
    ...beside('spigot groove', depth.male),
  ];
}

function spigotWords({ setup }: Job, spigot: NonNullable<Job['spigot']>, unit: Bench['unit']): string {
  const { diameter, turned, asPlanned, fit } = spigot;
  if (turned !== undefined)
    return `${lengthFigure(diameter, unit)} over its crests, turned to ${lengthFigure(turned, unit)}`;
  const computed = asPlanned ? 'its fit by trial' : `computed fit ${fitName(setup, fit)}`;
  return `${lengthFigure(diameter, unit)}, ${computed}`;
}

function boreRows(job: Job, unit: Bench['unit']): Table['rows'] {
  const { bore } = job;
  if (!bore) return [];
  const value = withDoubt(bore.diameter, mm(boreDoubt(job)?.expanded95 ?? 0), unit);
  return [{ name: 'bore', value: `${value}, ${bore.how}` }];
}

const threadRows = (job: Job, unit: Bench['unit']): Table['rows'] =>
  PARTS.flatMap((part) => {
    const { cut, chased } = job.threads[part];
    const name = `${partWord(part)} thread`;
    if (chased) return [{ name, value: `${pitchFigure(job.setup.pitch)}, ${chasedText(chased, unit)}` }];
    if (!cut) return [];
    const detents = cut.detents === null ? 'typed' : `${cut.detents} detents`;
    return [
      {
        name,
        value: `${pitchFigure(job.setup.pitch)}, ${lengthFigure(cut.depth, unit)} deep, ${detents}${cut.proven ? '' : ', not proven'}`,
      },
    ];
  });

function nextStep(job: Job): string {
  if (job.closed) return 'Press s for the job sheet, w for a new job, q to leave.';
  return 'Type the degrees left to turn until the grain lines up. Press Enter alone to close the job.';
}
