// Sensible figures for a box of which little more than the outside is known. All of them common practice, no source.
import type { Pitch } from '../quantity.ts';
import type { Tip } from '../thread/form.ts';
import { wantedDepth } from '../thread/passes.ts';
import { type Angle, degrees, type Length, mm, tpi } from '../units.ts';
import { BELOW_THREAD } from './box.ts';
import { notPositive, type PlanRefusal, under, wrongStarts } from './refusal.ts';

/** What is decided already. */
export interface Known {
  readonly pitch?: Pitch | undefined;
  readonly starts?: number;
  readonly angle?: Angle;
  readonly tip?: Tip;
  readonly leastWall?: Length | undefined;
  readonly bore?: Length | undefined;
  readonly engaged?: Length | undefined;
  /** Of both grooves, where it is known, as from whole detents of a feed. */
  readonly depth?: Length | undefined;
}

export interface Suggestion {
  readonly kind: 'suggestion';
  readonly pitch: Pitch;
  readonly starts: number;
  readonly angle: Angle;
  readonly tip: Tip;
  /** Radial, of both grooves: the deepest ordinary profile, 17/24 H less the tip (ISO 68-1). */
  readonly depth: Length;
  readonly leastWall: Length;
  readonly bore: Length;
  readonly engaged: Length;
  /** Each choice that was not known already, and what it rests on. */
  readonly because: readonly string[];
}

/** Finer threads for smaller bores, each up to this bore in millimetres. */
const PITCHES = [
  { upTo: 28, threads: 20 },
  { upTo: 65, threads: 16 },
  { upTo: 100, threads: 12 },
  { upTo: Number.POSITIVE_INFINITY, threads: 10 },
] as const;
/** A bore's share of the outside, to choose a pitch by before there is a bore. */
const BORE_SHARE = 0.8;
const LEAST_WALL = mm(2.5);
/** The wall left beside the thread: this many least walls, this share of the outside, and no less than the runout groove asks for. */
const ROOMY = 1.5;
const WALL_SHARE = 0.09;
/** Threads engaged along the axis, for any number of starts. */
const THREADS_ENGAGED = 3;
/** The smallest bore worth threading, in pitches. */
const LEAST_BORE = 6;

export function suggestedPitch(outside: Length, bore?: Length): Pitch {
  const across = bore ?? BORE_SHARE * outside;
  const threads = PITCHES.find((row) => across <= row.upTo)?.threads ?? PITCHES[0].threads;
  return { length: tpi(threads), given: { kind: 'tpi', threads } };
}

const roomyWall = (outside: Length, leastWall: Length): Length =>
  mm(Math.max(ROOMY * leastWall, WALL_SHARE * outside, leastWall + BELOW_THREAD));

/** The outside that leaves the least bore: the wall that is suggested may grow with it. */
function leastOutside(leastBore: number, depth: Length, leastWall: Length): Length {
  const core = leastBore + 2 * depth;
  const wall = Math.max(ROOMY * leastWall, leastWall + BELOW_THREAD);
  return mm(Math.max(core + 2 * wall, core / (1 - 2 * WALL_SHARE)));
}

/** The outside that goes with a bore and the depth of its thread: the plan turned round, with the same wall. */
export const suggestedOutside = (bore: Length, depth: Length, leastWall: Length = LEAST_WALL): Length =>
  leastOutside(bore, depth, leastWall);

const unknownOnly = (known: unknown, reason: string): readonly string[] =>
  known === undefined ? [`${reason} (common practice, no source)`] : [];

function reasons(known: Known, pitch: Pitch, bore: Length, outside: Length): readonly string[] {
  const threads = pitch.given.kind === 'tpi' ? pitch.given.threads : 0;
  const wide =
    known.bore === undefined ? `${outside.toFixed(0)} mm outside` : `a bore of ${bore.toFixed(0)} mm`;
  return [
    ...unknownOnly(known.pitch, `${threads} TPI for ${wide}, finer on smaller boxes`),
    ...unknownOnly(known.leastWall, `a minimum wall of ${LEAST_WALL} mm`),
    ...unknownOnly(
      known.bore,
      `a bore that leaves ${ROOMY} times the minimum wall beside the thread, and at least ${100 * WALL_SHARE} % of the outside`,
    ),
    ...unknownOnly(
      known.engaged,
      `${THREADS_ENGAGED} threads engaged, enough to hold and few enough to open easily`,
    ),
  ];
}

/** Pitch, depth, wall, bore and engagement for an outside diameter; refused where no bore would be left. */
export function suggestPlan(outside: Length, known: Known = {}): Suggestion | PlanRefusal {
  const { starts = 1, angle = degrees(60), tip = { kind: 'sharp' }, leastWall = LEAST_WALL } = known;
  const pitch = known.pitch ?? suggestedPitch(outside, known.bore);
  const depth = known.depth ?? wantedDepth({ pitch: pitch.length, angle, tip, profile: 'deepest' });
  const wrong = notPositive({ outside, pitch: pitch.length, 'least wall': leastWall, depth });
  const refused = wrong ?? wrongStarts(starts);
  if (refused) return refused;
  const wall = roomyWall(outside, leastWall);
  const bore = known.bore ?? mm(outside - 2 * (wall + depth));
  const leastBore = LEAST_BORE * pitch.length;
  if (known.bore === undefined && under(bore, leastBore)) {
    const left = mm((outside - leastBore) / 2 - depth);
    return tooThin(left, wall, leastOutside(leastBore, depth, leastWall));
  }
  const engaged = known.engaged ?? mm(THREADS_ENGAGED * pitch.length);
  const because = reasons(known, pitch, bore, outside);
  return { kind: 'suggestion', pitch, starts, angle, tip, depth, leastWall, bore, engaged, because };
}

const tooThin = (wall: Length, leastWall: Length, outside: Length): PlanRefusal => ({
  kind: 'wall-too-thin',
  wall,
  leastWall,
  mostBore: undefined,
  leastOutside: outside,
});
