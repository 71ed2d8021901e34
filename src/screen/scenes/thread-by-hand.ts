// A thread stage worked by hand: strokes made and left, the depth that the flat shows, and how well either is known.
import { CAUTIONS } from '../../core/bench/cautions.ts';
import type { Job } from '../../core/bench/job.ts';
import type { Part } from '../../core/bench/setup.ts';
import { type Chasing, chasingOf } from '../../core/bench/stages/chased-thread.ts';
import type { Bench } from '../../core/bench/state.ts';
import { expectedOf } from '../../core/bench/target.ts';
import { asKnown, counted, fineWithDoubt, lengthFigure, withDoubt } from '../../core/figures.ts';
import { FLAT_BY_EYE, type KnownDepth } from '../../core/thread/chased.ts';
import { type LengthUnit, mm } from '../../core/units.ts';
import { chasingKeys } from '../key-table.ts';
import { type Big, type Figure, MARKS, type Scene, type Standing } from '../scene.ts';
import { doubtFor } from './memo.ts';
import { standingLine } from './scene-parts.ts';
import { sectionFor } from './thread-section.ts';

export function chasedScene(bench: Bench, job: Job, part: Part): Scene {
  const chasing = chasingOf({ ...bench, job }, part);
  const depth = (chasing.known ?? chasing.about)?.depth ?? mm(0);
  return {
    title: part === 'female' ? 'bore thread' : 'spigot thread',
    big: bigOf(chasing, bench.unit),
    standing: standingOf(job, chasing, bench.unit),
    facts: [...factsOf(job, chasing, bench.unit), ...fitNow(job, bench.unit)],
    panel: { kind: 'section', section: sectionFor(job, part, depth) },
    next: nextStep(job, chasing, bench.unit),
    caution: CAUTIONS.chasing,
    keys: chasingKeys,
    typing: null,
  };
}

const DEPTH_STYLE = { shallow: 'value', full: 'at', past: 'past' } as const;

/** The strokes left where a measured depth tells them; else the depth where it is known; else the strokes made. */
function bigOf({ state, strokes, left }: Chasing, unit: LengthUnit): Big {
  if (left && (state.kind === 'chasing' || state.kind === 'shallow'))
    return {
      text: String(left.about),
      unit: left.about === 1 ? 'stroke' : 'strokes',
      label: `left (${left.from} to ${left.to})`,
      style: left.about > 2 ? 'value' : 'near',
    };
  if ('known' in state) {
    const { value, half } = fineWithDoubt(state.known.depth, state.known.within, unit);
    return { text: value, unit, label: `deep, ± ${half}`, style: DEPTH_STYLE[state.kind] };
  }
  const label = state.kind === 'by-trial' ? 'kept by trial' : 'so far';
  return strokes === 0 && state.kind === 'by-trial'
    ? { text: '--', unit: '', label: 'kept by trial, not counted', style: 'good' }
    : {
        text: String(strokes),
        unit: strokes === 1 ? 'stroke' : 'strokes',
        label,
        style: state.kind === 'by-trial' ? 'good' : 'value',
      };
}

const deepWords = ({ depth, within }: KnownDepth, unit: LengthUnit): string =>
  `${withDoubt(depth, within, unit)} deep`;

function standingOf({ spigot }: Job, { state, part, about }: Chasing, unit: LengthUnit): Standing {
  switch (state.kind) {
    case 'not-chased':
      return standingLine(MARKS.open, 'NOT CHASED YET', 'nothing counted yet', 'quiet');
    case 'crests-kept':
      return standingLine(MARKS.half, 'CRESTS CUT', 'the depth below them is not measured', 'near');
    case 'chasing':
      return standingLine(
        MARKS.half,
        'CHASING',
        about ? `by strokes ${deepWords(about, unit)}` : 'depth not measured',
        'plain',
      );
    case 'crests-cut':
      return standingLine(
        MARKS.half,
        'CRESTS CUT',
        `${lengthFigure(state.diameter, unit)} over them, ${lengthFigure(mm(state.spigot - state.diameter), unit)} less than before`,
        'near',
      );
    case 'shallow':
      return standingLine(MARKS.half, 'KEPT', `${deepWords(state.known, unit)}, not full yet`, 'plain');
    case 'full':
      return standingLine(MARKS.full, 'FULL DEPTH', `${deepWords(state.known, unit)}, kept`, 'at');
    case 'past':
      return standingLine(
        MARKS.under,
        'TOO DEEP',
        `${deepWords(state.known, unit)}: ${part === 'female' && !spigot ? 'the target allows for it' : 'a looser fit'}`,
        'past',
      );
    case 'by-trial':
      return standingLine(MARKS.full, 'KEPT', 'by trial: depth not measured', 'good');
    default: {
      const never: never = state;
      throw new TypeError(`no such state: ${JSON.stringify(never)}`);
    }
  }
}

function depthText({ known, about }: Chasing, unit: LengthUnit): string {
  if (known) return withDoubt(known.depth, known.within, unit);
  return about ? `about ${withDoubt(about.depth, about.within, unit)}` : 'not measured';
}

/** The clearance of two measured depths; nothing is claimed of any other. */
function fitNow(job: Job, unit: LengthUnit): readonly Figure[] {
  const expected = job.spigot ? expectedOf(job, job.spigot) : null;
  const doubt = doubtFor(job);
  return expected?.kind === 'expected' && doubt
    ? [{ name: 'clearance', value: withDoubt(expected.clearance, mm(doubt.expanded95), unit) }]
    : [];
}

function factsOf({ spigot }: Job, chasing: Chasing, unit: LengthUnit): readonly Figure[] {
  const { part, strokes, planned, flatAtPlan, state } = chasing;
  return [
    {
      name: 'strokes',
      value: strokes === 0 && state.kind !== 'not-chased' ? 'not counted' : String(strokes),
    },
    { name: 'depth', value: depthText(chasing, unit) },
    { name: 'planned', value: lengthFigure(planned, unit) },
    { name: 'flat to leave', value: asKnown(flatAtPlan, FLAT_BY_EYE, unit) },
    ...(part === 'male' && spigot
      ? [
          {
            name: spigot.turned === undefined ? 'spigot' : 'over the crests',
            value: lengthFigure(spigot.diameter, unit),
          },
        ]
      : []),
  ];
}

function nextStep(job: Job, chasing: Chasing, unit: LengthUnit): string {
  const { state, part, left, flatAtPlan, wantsDiameter } = chasing;
  const onward = part === 'female' ? 'Press n for the bore size' : 'Press n for the trial';
  switch (state.kind) {
    case 'not-chased':
      return `Strike the thread and chase it to a flat of ${asKnown(flatAtPlan, FLAT_BY_EYE, unit)}. Press + after each stroke.`;
    case 'chasing':
      return chasingStep(chasing);
    case 'crests-kept':
      return 'Look at the flat left on the crest and type it, 0 for a sharp crest.';
    case 'crests-cut':
      return 'Press Enter to keep this size. Then look at the flat and type it, 0 for a sharp crest.';
    case 'by-trial':
      return part === 'female' ? `${onward}.` : `${onward}. Come back with b to chase on.`;
    case 'shallow':
    case 'full':
    case 'past':
      if (wantsDiameter) return pointedStep(job, part);
      return state.kind === 'shallow'
        ? `Chase ${left ? counted(left.about, 'more stroke') : 'on'}, then look at the flat again. ${onward} as it is.`
        : `${onward}.`;
    default: {
      const never: never = state;
      throw new TypeError(`no such state: ${JSON.stringify(never)}`);
    }
  }
}

function chasingStep({ left, about }: Chasing): string {
  if (left?.about === 0) return 'That should be full depth. Stop, look at the flat under a lens and type it.';
  return about
    ? 'Press + after each stroke. Then look at the flat again and type it, or press Enter to keep the depth the strokes give.'
    : 'Press + after each stroke. Stop and type the flat to know the depth, or press Enter and let the trial decide.';
}

/** Once a crest may be a point, only the diameter tells where it is. */
const pointedStep = ({ bore }: Job, part: Part): string =>
  part === 'male'
    ? 'Its crests may be cut too. Measure over them with the broad part of the jaws and type it, or press n for the trial.'
    : `Its crests may be cut too. Press n and measure the bore${bore ? ' again' : ''}.`;
