// The threaded part of a box: walls, turns, lengths, runout grooves and chamfers, or why it isn't possible; and the figures it suggests.
import type { Pitch } from '../quantity.ts';
import { lead, type Tip } from '../thread/form.ts';
import type { Part } from '../thread/pair.ts';
import { notPositive } from '../thread/pair.ts';
import { wantedDepth } from '../thread/passes.ts';
import { type Angle, degrees, type Length, mm, tpi } from '../units.ts';
import { type PlanRefusal, under, wrongStarts } from './refusal.ts';

export interface BoxWanted {
  /** Of the bored part, beside its thread. */
  readonly outside: Length;
  /** Over the crests, as it will be measured. */
  readonly bore: Length;
  /** Before its thread is cut. */
  readonly spigot: Length;
  readonly pitch: Length;
  readonly starts: number;
  /** Radial depths of both grooves. */
  readonly depth: { readonly female: Length; readonly male: Length };
  /** Width that the cutter's groove has at the surface, at full depth. */
  readonly grooveWidth: Length;
  readonly engaged: Length;
  /** For both parts, at their runout grooves, where they are thinnest. */
  readonly leastWall: Length;
  /** The hollow that runs through the spigot, where there is one. */
  readonly hollow?: Length | undefined;
  /** Depth of the bore, where it is given. */
  readonly boreDepth?: Length | undefined;
}

/**
 * The layout (derived). From the shoulder outwards the spigot has its runout groove, then its thread, chamfered at the
 * end. From the rim inwards the bore has its chamfer, a thread that covers the spigot's, and its own runout groove.
 */
export interface BoxPlan {
  readonly kind: 'box';
  /** (outside - (bore + 2 depth)) / 2, beside the bored thread. */
  readonly boredWall: Length;
  /** Inside the spigot's thread; all of its radius where it is not hollow. */
  readonly spigotWall: Length;
  /** Both at the runout groove, which goes deeper. */
  readonly wallAtRunout: Readonly<Record<Part, Length>>;
  readonly lead: Length;
  readonly engaged: Length;
  /** Turns from the first thread's hold to closed. */
  readonly turns: number;
  /** Least width, and depth on the radius, of each runout groove. */
  readonly runout: { readonly width: Length; readonly female: Length; readonly male: Length };
  readonly spigotLength: Length;
  readonly leastBoreDepth: Length;
  /** Diameters at the wide end of the bore's chamfer and at the small end of the spigot's. */
  readonly chamfer: { readonly bore: Length; readonly spigot: Length };
}

/** How much deeper than the thread a runout groove goes; common practice, no source. */
export const BELOW_THREAD = mm(0.2);

/** At least one pitch plus the cutter's half width at full depth: the cutter has to leave the thread within one turn (derived). */
const runoutWidth = (wanted: BoxWanted): Length => mm(wanted.pitch + wanted.grooveWidth / 2);

function wrongNumber(wanted: BoxWanted): PlanRefusal | undefined {
  const { outside, bore, spigot, pitch, depth, engaged, grooveWidth, leastWall, hollow, boreDepth } = wanted;
  const { female, male } = depth;
  return (
    notPositive({ outside, bore, spigot, pitch, 'depth in the bore': female, 'depth on the spigot': male }) ??
    notPositive({ 'groove width': grooveWidth, 'engaged length': engaged, 'least wall': leastWall }) ??
    (hollow === undefined ? undefined : notPositive({ 'hollow of the spigot': hollow })) ??
    (boreDepth === undefined ? undefined : notPositive({ 'depth of the bore': boreDepth })) ??
    wrongStarts(wanted.starts)
  );
}

const above = (least: number): Length | undefined => (least > 0 ? mm(least) : undefined);

/** Both walls are thinnest at the runout groove. */
function thinWall(wanted: BoxWanted): PlanRefusal | undefined {
  const { outside, bore, spigot, depth, leastWall, hollow } = wanted;
  const wall = mm((outside - bore) / 2 - depth.female - BELOW_THREAD);
  const round = 2 * (depth.female + BELOW_THREAD + leastWall);
  if (under(wall, leastWall)) {
    const [mostBore, leastOutside] = [above(outside - round), mm(bore + round)];
    return { kind: 'wall-too-thin', wall, leastWall, mostBore, leastOutside };
  }
  const root = spigot - 2 * (depth.male + BELOW_THREAD);
  const inner = mm((root - (hollow ?? 0)) / 2);
  if (!under(inner, leastWall)) return undefined;
  return { kind: 'spigot-too-thin', wall: inner, leastWall, mostHollow: above(root - 2 * leastWall) };
}

function tooShort(wanted: BoxWanted): PlanRefusal | undefined {
  const { pitch, engaged, boreDepth } = wanted;
  if (under(engaged, pitch)) return { kind: 'too-few-threads', engaged, leastEngaged: pitch };
  const leastRoom = mm(engaged + 2 * runoutWidth(wanted));
  if (boreDepth === undefined || !under(boreDepth, leastRoom)) return undefined;
  const most = boreDepth - 2 * runoutWidth(wanted);
  const mostEngaged = !under(most, pitch) ? mm(most) : undefined;
  return { kind: 'bore-too-shallow', room: boreDepth, leastRoom, mostEngaged };
}

/** The plan of the threaded part, or why it isn't possible, with the nearest one that is. */
export function planBox(wanted: BoxWanted): BoxPlan | PlanRefusal {
  const refused = wrongNumber(wanted) ?? thinWall(wanted) ?? tooShort(wanted);
  if (refused) return refused;
  const { outside, bore, spigot, depth, engaged, pitch, starts } = wanted;
  const boredWall = mm((outside - (bore + 2 * depth.female)) / 2);
  const spigotWall = mm((spigot - 2 * depth.male - (wanted.hollow ?? 0)) / 2);
  const width = runoutWidth(wanted);
  return {
    kind: 'box',
    boredWall,
    spigotWall,
    wallAtRunout: { female: mm(boredWall - BELOW_THREAD), male: mm(spigotWall - BELOW_THREAD) },
    lead: lead(pitch, starts),
    engaged,
    turns: engaged / lead(pitch, starts),
    runout: { width, female: mm(depth.female + BELOW_THREAD), male: mm(depth.male + BELOW_THREAD) },
    spigotLength: mm(engaged + width),
    leastBoreDepth: mm(engaged + 2 * width),
    chamfer: { bore: mm(bore + 2 * depth.female), spigot: mm(spigot - 2 * depth.male) },
  };
}

/** What is decided already; the rest is suggested by common practice, no source. */
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

/** The outside that goes with a bore and the depth of its thread: the plan turned round; the wall that is suggested grows with it. */
export function suggestedOutside(bore: Length, depth: Length, leastWall: Length = LEAST_WALL): Length {
  const core = bore + 2 * depth;
  const wall = Math.max(ROOMY * leastWall, leastWall + BELOW_THREAD);
  return mm(Math.max(core + 2 * wall, core / (1 - 2 * WALL_SHARE)));
}

function reasons(known: Known, pitch: Pitch, bore: Length, outside: Length): readonly string[] {
  const threads = pitch.given.kind === 'tpi' ? pitch.given.threads : 0;
  const wide =
    known.bore === undefined ? `${outside.toFixed(0)} mm outside` : `a bore of ${bore.toFixed(0)} mm`;
  const all = {
    pitch: `${threads} TPI for ${wide}, finer on smaller boxes`,
    leastWall: `a minimum wall of ${LEAST_WALL} mm`,
    bore: `a bore that leaves ${ROOMY} times the minimum wall beside the thread, and at least ${100 * WALL_SHARE} % of the outside`,
    engaged: `${THREADS_ENGAGED} threads engaged, enough to hold and few enough to open easily`,
  } as const;
  const chosen = (['pitch', 'leastWall', 'bore', 'engaged'] as const).filter(
    (key) => known[key] === undefined,
  );
  return chosen.map((key) => `${all[key]} (common practice, no source)`);
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
  const leastBore = mm(LEAST_BORE * pitch.length);
  if (known.bore === undefined && under(bore, leastBore)) {
    const left = mm((outside - leastBore) / 2 - depth);
    const leastOutside = suggestedOutside(leastBore, depth, leastWall);
    return { kind: 'wall-too-thin', wall: left, leastWall: wall, mostBore: undefined, leastOutside };
  }
  const engaged = known.engaged ?? mm(THREADS_ENGAGED * pitch.length);
  const because = reasons(known, pitch, bore, outside);
  return { kind: 'suggestion', pitch, starts, angle, tip, depth, leastWall, bore, engaged, because };
}
