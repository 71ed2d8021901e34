// A thread stage worked by hand: strokes made and left, the depth that the flat shows, and how well either is known.
import { CAUTIONS } from '../../core/bench/cautions.ts';
import type { Job } from '../../core/bench/job.ts';
import type { Part } from '../../core/bench/setup.ts';
import { type Chasing, type ChasingState, chasingOf } from '../../core/bench/stages/chased-thread.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { expectedOf } from '../../core/bench/target.ts';
import { asKnown, counted, fineWithDoubt, lengthFigure, withDoubt } from '../../core/figures.ts';
import { FLAT_BY_EYE, type KnownDepth } from '../../core/thread/depth.ts';
import { type LengthUnit, mm } from '../../core/units.ts';
import { chasingKeys } from '../keymap.ts';
import { type Big, type Figure, MARKS, type Standing } from '../scene.ts';
import type { Style } from '../text.ts';
import { byKind } from '../words.ts';
import { doubtFor, factsFrom, knownLength, type StageScene, standingLine } from './scene-parts.ts';
import { sectionFor } from './thread.ts';

export function chasedScene(bench: WithJob, part: Part): StageScene {
  const { job, unit } = bench;
  const chasing = chasingOf(bench, part);
  const depth = (chasing.known ?? chasing.about)?.depth ?? mm(0);
  return {
    big: bigOf(chasing, unit),
    standing: standingOf(chasing.state, bench, chasing),
    facts: factsOf(job, chasing, unit),
    panel: { kind: 'section', ...sectionFor(job, part, depth) },
    next: nextStep(chasing.state, bench, chasing),
    caution: CAUTIONS.chasing,
    keys: chasingKeys,
  };
}

const DEPTH_STYLE = { shallow: 'value', full: 'at', past: 'past' } as const;

const bigStrokes = (count: number, label: string, style: Style): Big => ({
  text: String(count),
  unit: count === 1 ? 'stroke' : 'strokes',
  label,
  style,
});

/** The strokes left where a measured depth tells them; else the depth where it is known; else the strokes made. */
function bigOf({ state, strokes, left }: Chasing, unit: LengthUnit): Big {
  if (left && (state.kind === 'chasing' || state.kind === 'shallow'))
    return bigStrokes(left.about, `left (${left.from} to ${left.to})`, left.about > 2 ? 'value' : 'near');
  if ('known' in state) {
    const { value, half } = fineWithDoubt(state.known.depth, state.known.within, unit);
    return { text: value, unit, label: `deep, ± ${half}`, style: DEPTH_STYLE[state.kind] };
  }
  if (state.kind !== 'by-trial') return bigStrokes(strokes, 'so far', 'value');
  return strokes === 0
    ? { text: '--', unit: '', label: 'kept by trial, not counted', style: 'good' }
    : bigStrokes(strokes, 'kept by trial', 'good');
}

const deepWords = ({ depth, within }: KnownDepth, unit: LengthUnit): string =>
  `${withDoubt(depth, within, unit)} deep`;

type Shown = [bench: WithJob, chasing: Chasing];

const standingOf = byKind<ChasingState, Standing, Shown>({
  'not-chased': standingLine(MARKS.open, 'NOT CHASED YET', 'nothing counted yet', 'quiet'),
  'crests-kept': standingLine(MARKS.half, 'CRESTS CUT', 'the depth below them is not measured', 'near'),
  chasing(_, { unit }, { about }) {
    const deep = about ? `by strokes ${deepWords(about, unit)}` : 'depth not measured';
    return standingLine(MARKS.half, 'CHASING', deep, 'plain');
  },
  'crests-cut'({ spigot, diameter }, { unit }) {
    const less = `${lengthFigure(mm(spigot - diameter), unit)} less than before`;
    return standingLine(
      MARKS.half,
      'CRESTS CUT',
      `${lengthFigure(diameter, unit)} over them, ${less}`,
      'near',
    );
  },
  shallow: ({ known }, { unit }) =>
    standingLine(MARKS.half, 'KEPT', `${deepWords(known, unit)}, not full yet`, 'plain'),
  full: ({ known }, { unit }) =>
    standingLine(MARKS.full, 'FULL DEPTH', `${deepWords(known, unit)}, kept`, 'at'),
  past({ known }, { job, unit }, { part }) {
    const then = part === 'female' && !job.spigot ? 'the target allows for it' : 'a looser fit';
    return standingLine(MARKS.under, 'TOO DEEP', `${deepWords(known, unit)}: ${then}`, 'past');
  },
  'by-trial': standingLine(MARKS.full, 'KEPT', 'by trial: depth not measured', 'good'),
});

function depthText({ known, about }: Chasing, unit: LengthUnit): string {
  if (known) return withDoubt(known.depth, known.within, unit);
  return about ? `about ${withDoubt(about.depth, about.within, unit)}` : 'not measured';
}

/** The clearance of two measured depths; nothing is claimed of any other. */
function clearanceNow(job: Job, unit: LengthUnit): string | null {
  const expected = job.spigot ? expectedOf(job, job.spigot) : null;
  const doubt = doubtFor(job);
  return expected?.kind === 'expected' && doubt
    ? withDoubt(expected.clearance, mm(doubt.expanded95), unit)
    : null;
}

function factsOf(job: Job, chasing: Chasing, unit: LengthUnit): readonly Figure[] {
  const { part, strokes, planned, flatAtPlan, state } = chasing;
  const spigot = part === 'male' ? job.spigot : null;
  return factsFrom({
    strokes: strokes === 0 && state.kind !== 'not-chased' ? 'not counted' : String(strokes),
    depth: depthText(chasing, unit),
    planned: lengthFigure(planned, unit),
    'flat to leave': asKnown(flatAtPlan, FLAT_BY_EYE, unit),
    [spigot?.turned === undefined ? 'spigot' : 'over the crests']: knownLength(spigot?.diameter, unit),
    clearance: clearanceNow(job, unit),
  });
}

const onward = (part: Part): string =>
  part === 'female' ? 'Press n for the bore size' : 'Press n for the trial';

const nextStep = byKind<ChasingState, string, Shown>({
  'not-chased': (_, { unit }, { flatAtPlan }) =>
    `Strike the thread and chase it to a flat of ${asKnown(flatAtPlan, FLAT_BY_EYE, unit)}. Press + after each stroke.`,
  chasing: (_, __, chasing) => chasingStep(chasing),
  'crests-kept': 'Look at the flat left on the crest and type it, 0 for a sharp crest.',
  'crests-cut': 'Press Enter to keep this size. Then look at the flat and type it, 0 for a sharp crest.',
  'by-trial': (_, __, { part }) =>
    `${onward(part)}.${part === 'female' ? '' : ' Come back with b to chase on.'}`,
  shallow: (_, { job }, { part, left, wantsDiameter }) =>
    wantsDiameter
      ? pointedStep(job, part)
      : `Chase ${left ? counted(left.about, 'more stroke') : 'on'}, then look at the flat again. ${onward(part)} as it is.`,
  full: deepEnough,
  past: deepEnough,
});

function deepEnough(_: ChasingState, { job }: WithJob, { part, wantsDiameter }: Chasing): string {
  return wantsDiameter ? pointedStep(job, part) : `${onward(part)}.`;
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
