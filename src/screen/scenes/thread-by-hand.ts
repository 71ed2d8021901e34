// A thread stage worked by hand: strokes made and left, the depth that the flat shows, and how well either is known.
import { CAUTIONS } from '../../core/bench/cautions.ts';
import type { Job } from '../../core/bench/job.ts';
import type { Part } from '../../core/bench/setup.ts';
import { type Chasing, chasingOf } from '../../core/bench/stages/chased-thread.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { expectedOf } from '../../core/bench/target.ts';
import { asKnown, counted, fineWithDoubt, lengthFigure, withDoubt } from '../../core/figures.ts';
import { FLAT_BY_EYE, type KnownDepth } from '../../core/thread/depth.ts';
import { partWord } from '../../core/thread/pair.ts';
import { type LengthUnit, mm } from '../../core/units.ts';
import { chasingKeys } from '../keymap.ts';
import { type Big, type Figure, MARKS, type Scene, type Standing } from '../scene.ts';
import type { Style } from '../styled-text.ts';
import { doubtFor, factsFrom, knownLength, standingLine } from './scene-parts.ts';
import { sectionFor } from './thread.ts';

export function chasedScene(bench: WithJob, part: Part): Scene {
  const { job, unit } = bench;
  const chasing = chasingOf(bench, part);
  const depth = (chasing.known ?? chasing.about)?.depth ?? mm(0);
  return {
    title: `${partWord(part)} thread`,
    big: bigOf(chasing, unit),
    standing: standingOf(job, chasing, unit),
    facts: factsOf(job, chasing, unit),
    panel: { kind: 'section', ...sectionFor(job, part, depth) },
    next: nextStep(job, chasing, unit),
    caution: CAUTIONS.chasing,
    keys: chasingKeys,
    typing: null,
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

function standingOf({ spigot }: Job, { state, part, about }: Chasing, unit: LengthUnit): Standing {
  switch (state.kind) {
    case 'not-chased':
      return standingLine(MARKS.open, 'NOT CHASED YET', 'nothing counted yet', 'quiet');
    case 'crests-kept':
      return standingLine(MARKS.half, 'CRESTS CUT', 'the depth below them is not measured', 'near');
    case 'chasing': {
      const deep = about ? `by strokes ${deepWords(about, unit)}` : 'depth not measured';
      return standingLine(MARKS.half, 'CHASING', deep, 'plain');
    }
    case 'crests-cut': {
      const less = `${lengthFigure(mm(state.spigot - state.diameter), unit)} less than before`;
      const over = `${lengthFigure(state.diameter, unit)} over them, ${less}`;
      return standingLine(MARKS.half, 'CRESTS CUT', over, 'near');
    }
    case 'shallow':
      return standingLine(MARKS.half, 'KEPT', `${deepWords(state.known, unit)}, not full yet`, 'plain');
    case 'full':
      return standingLine(MARKS.full, 'FULL DEPTH', `${deepWords(state.known, unit)}, kept`, 'at');
    case 'past': {
      const then = part === 'female' && !spigot ? 'the target allows for it' : 'a looser fit';
      return standingLine(MARKS.under, 'TOO DEEP', `${deepWords(state.known, unit)}: ${then}`, 'past');
    }
    case 'by-trial':
      return standingLine(MARKS.full, 'KEPT', 'by trial: depth not measured', 'good');
    default:
      return state satisfies never;
  }
}

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
    default:
      return state satisfies never;
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
