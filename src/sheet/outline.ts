// What a sheet draws: the job as measured, planned or aimed at, the box that a plan would suggest around it, and the outlines of lid and body.
import type { Job } from '../core/bench/job.ts';
import { aimOf, expectedAsPlanned } from '../core/bench/target.ts';
import { pairOf } from '../core/bench/threads.ts';
import { planBox, suggestedOutside, suggestPlan } from '../core/plan/box.ts';
import { planRefusalText } from '../core/plan/refusal.ts';
import { grooveWidth } from '../core/thread/form.ts';
import type { Pair, Part } from '../core/thread/pair.ts';
import { type Point, sectionOf } from '../core/thread/section.ts';
import { type Length, type LengthUnit, mm } from '../core/units.ts';

export interface Subject {
  /** With a bore and a spigot in it. */
  readonly job: Job & { readonly bore: object; readonly spigot: object };
  readonly bore: 'bore' | 'planned bore';
  readonly spigot: 'spigot' | 'spigot target';
}

/** With the planned bore where none is measured. */
function bored(job: Job): Job {
  const { plannedBore } = job.setup;
  if (job.bore || plannedBore === undefined) return job;
  const unknown = { standard: null, degreesOfFreedom: null, tops: 0, agreeing: 0, spread: null } as const;
  return { ...job, bore: { kind: 'bore-taken', diameter: plannedBore, how: 'typed', ...unknown } };
}

/** With the target as its spigot where none is turned. */
function turned(job: Job): Job {
  const aim = aimOf(job);
  if (job.spigot || aim.kind !== 'aim') return job;
  const expected = expectedAsPlanned(job, { diameter: aim.target });
  if (expected.kind !== 'expected') return job;
  const { clearance, word } = expected;
  return {
    ...job,
    spigot: { kind: 'spigot-taken', diameter: aim.target, how: 'typed', fit: word, clearance },
  };
}

/** The subject, or why there is nothing to draw. */
export function subjectOf(job: Job): Subject | string {
  const whole = turned(bored(job));
  const { bore, spigot } = whole;
  if (!bore || !spigot) {
    const aim = aimOf(whole);
    return aim.kind === 'no-fit' ? aim.why : 'no bore is measured or planned yet';
  }
  const expected = expectedAsPlanned(whole, spigot);
  if (expected.kind === 'no-fit') return expected.why;
  return {
    job: { ...whole, bore, spigot },
    bore: job.bore ? 'bore' : 'planned bore',
    spigot: job.spigot ? 'spigot' : 'spigot target',
  };
}

/** All lengths in millimetres; radial ones say so. */
export interface BoxShape {
  readonly bore: Length;
  readonly spigot: Length;
  /** Null for a plain lid. */
  readonly thread: ShapeThread | null;
  readonly outside: Length;
  readonly wall: Length;
  readonly engaged: Length;
  readonly spigotLength: Length;
  readonly boreDepth: Length;
  /** Diameter of the hollow through the spigot; null where the spigot is too small for one. */
  readonly hollow: Length | null;
  /** Radial, of each part's end. */
  readonly chamfer: { readonly female: Length; readonly male: Length };
}

interface ShapeThread {
  readonly pair: Pair;
  readonly runout: { readonly width: Length; readonly female: Length; readonly male: Length };
}

/** Of a plain lid: overlap as a share of its bore with a least, play under the spigot's end, chamfer; our own choices. */
const PLAIN = { share: 0.12, least: mm(4), under: mm(1), chamfer: mm(0.4) };
/** A hollow of less than this share of the spigot is not drawn; our own choice. */
const LEAST_HOLLOW = 0.3;

function hollowIn(spigot: Length, root: Length, wall: Length): Length | null {
  const across = mm(root - 2 * wall);
  return across > LEAST_HOLLOW * spigot ? across : null;
}

function plainShape({ job }: Subject): BoxShape {
  const { diameter: bore } = job.bore;
  const { diameter: spigot } = job.spigot;
  const outside = suggestedOutside(mm(Math.max(bore, spigot)), mm(0));
  const engaged = job.setup.engagedLength ?? mm(Math.max(PLAIN.least, PLAIN.share * bore));
  const wall = mm((outside - bore) / 2);
  return {
    ...{ bore, spigot, outside, wall, engaged, thread: null },
    spigotLength: engaged,
    boreDepth: mm(engaged + PLAIN.under),
    hollow: hollowIn(spigot, spigot, wall),
    chamfer: { female: PLAIN.chamfer, male: PLAIN.chamfer },
  };
}

/** Both grooves' figures for a plan; the wider groove asks for the wider runout. */
function planOf({ job }: Subject, pair: Pair, unit: LengthUnit) {
  const { setup } = job;
  const depth = { female: pair.female.depth, male: pair.male.depth };
  const bore = job.bore.diameter;
  const spigot = job.spigot.diameter;
  const outside = mm(Math.max(suggestedOutside(bore, depth.female), suggestedOutside(spigot, mm(0))));
  const suggested = suggestPlan(outside, {
    ...{ pitch: setup.pitch, starts: setup.starts, bore, depth: depth.female },
    ...(setup.engagedLength === undefined ? {} : { engaged: setup.engagedLength }),
  });
  if (suggested.kind !== 'suggestion') return planRefusalText(suggested, unit);
  const widths = [pair.female, pair.male].map((groove) => grooveWidth(groove.depth, groove.tip, pair.angle));
  const { engaged, leastWall } = suggested;
  const box = planBox({
    ...{ outside, bore, spigot, depth, engaged, leastWall },
    ...{ pitch: setup.pitch.length, starts: setup.starts, grooveWidth: mm(Math.max(...widths)) },
  });
  return box.kind === 'box' ? { box, outside } : planRefusalText(box, unit);
}

function threadedShape(subject: Subject, unit: LengthUnit): BoxShape | string {
  const bore = subject.job.bore.diameter;
  const spigot = subject.job.spigot.diameter;
  const pair = pairOf(subject.job, bore);
  const plan = planOf(subject, pair, unit);
  if (typeof plan === 'string') return plan;
  const { box, outside } = plan;
  return {
    ...{ bore, spigot, outside },
    thread: { pair, runout: box.runout },
    wall: box.boredWall,
    engaged: box.engaged,
    spigotLength: box.spigotLength,
    boreDepth: box.leastBoreDepth,
    hollow: hollowIn(spigot, mm(spigot - 2 * box.runout.male), box.boredWall),
    chamfer: { female: pair.female.depth, male: pair.male.depth },
  };
}

/** The shape, or why no box can be planned around this joint. */
export const shapeOf = (subject: Subject, unit: LengthUnit): BoxShape | string =>
  subject.job.setup.fit === 'plain' ? plainShape(subject) : threadedShape(subject, unit);

/** Radius, and distance from the part's open end (rim or spigot's end) into the part; millimetres of wood. */
export type Turning = readonly [radius: number, away: number];

/** Under this pitch on paper teeth would run into a blot: the thread is then drawn as ISO 6410-1 has it, crests and a thin line at the roots. */
const LEAST_TOOTH = 1.2;
export const showsTeeth = (pitch: number, scale: number): boolean => pitch * scale >= LEAST_TOOTH;

/** A surface through points in order along the axis, read anywhere between them. */
function levelAt(points: readonly Point[], along: number): number {
  const after = points.findIndex((point) => point.along >= along);
  const [a, b] = [points[after - 1], points[after]];
  if (!a || !b) return b?.out ?? a?.out ?? 0;
  const share = b.along === a.along ? 1 : (along - a.along) / (b.along - a.along);
  return a.out + share * (b.out - a.out);
}

/** The thread's surface from the shoulder on, over a length; `far`: on the far side of the axis, half a lead on. */
function surfaceOf(shape: BoxShape, { pair }: ShapeThread, which: Part, far: boolean): readonly Point[] {
  const shift = far ? ((pair.starts * pair.pitch) / 2) % pair.pitch : 0;
  const pitches = Math.ceil(shape.boreDepth / pair.pitch) + 2;
  const section = sectionOf(pair, mm(shape.spigot - shape.bore), pitches);
  return section[which].slice(0, -2).map(({ along, out }) => ({ along: mm(along - shift), out }));
}

/** Places worth a point up to a level: the surface's corners, and along the chamfer, where it and the thread may cross. */
function places(corners: readonly number[], to: number, chamfer: number): readonly number[] {
  const bevel = Array.from({ length: 9 }, (_, at) => (chamfer * at) / 8);
  const within = [...corners, ...bevel].filter((along) => along > 0 && along < to);
  return [...new Set([0, ...within, to])].sort((a, b) => a - b);
}

/**
 * The bore from its rim to the bottom, or the spigot from its end to the shoulder: chamfer, thread, runout groove. What any of
 * them cuts is gone.
 */
function jointSide(shape: BoxShape, which: Part, teeth: boolean, far: boolean): readonly Turning[] {
  const { thread } = shape;
  const [radius, long, into] =
    which === 'female'
      ? ([shape.bore / 2, shape.boreDepth, 1] as const)
      : ([shape.spigot / 2, shape.spigotLength, -1] as const);
  const chamfer = shape.chamfer[which];
  const bevel = (away: number): number => radius + into * Math.max(0, chamfer - away);
  const end = long - (thread?.runout.width ?? 0);
  const smooth: readonly Turning[] = [
    [bevel(0), 0],
    [radius, chamfer],
    [radius, end],
  ];
  if (!thread) return smooth;
  const groove = radius + into * thread.runout[which];
  const points = teeth ? surfaceOf(shape, thread, which, far) : [];
  const along = (away: number): number => (which === 'female' ? away : long - away);
  const cut = (away: number): number =>
    into * Math.max(into * bevel(away), into * (shape.bore / 2 + levelAt(points, along(away))));
  const corners = points.map((point) => along(point.along));
  const threaded = places(corners, end, chamfer).map((away): Turning => [cut(away), away]);
  return [...(teeth ? threaded : smooth), [groove, end], [groove, long]];
}

export interface DrawnPart {
  readonly name: 'lid' | 'body';
  readonly which: Part;
  /** Height along the axis, millimetres of wood. */
  readonly tall: number;
  /** Whether both sides meet on the axis. */
  readonly closed: boolean;
  /** From the axis or the hollow outwards and back; the far side's thread stands half a lead on. */
  readonly side: (far: boolean) => readonly Turning[];
}

/** Wood shown behind a joint before the drawing breaks off, and how far a torn edge waves; on paper. */
const STUMP = 4;
const WAVE = 0.5;
const WAVE_LENGTH = 3;

/** A torn edge from one radius to another, as the freehand line of a broken view. */
function torn(from: number, to: number, away: number, scale: number): readonly Turning[] {
  const waves = Math.max(1, Math.round((Math.abs(to - from) * scale) / WAVE_LENGTH));
  return Array.from({ length: 8 * waves + 1 }, (_, at): Turning => {
    const share = at / (8 * waves);
    return [from + (to - from) * share, away + (WAVE / scale) * Math.sin(2 * Math.PI * waves * share)];
  });
}

/** The lid is whole; of the body a stump is shown. */
function partOf(shape: BoxShape, name: DrawnPart['name'], which: Part, scale: number): DrawnPart {
  const { boreDepth, spigotLength, thread } = shape;
  const bored = which === 'female';
  const teeth = !thread || showsTeeth(thread.pair.pitch, scale);
  const tall = (bored ? boreDepth : spigotLength) + (name === 'lid' ? shape.wall : STUMP / scale);
  const outer = shape.outside / 2;
  const inner = name === 'lid' ? 0 : (bored ? shape.bore : (shape.hollow ?? 0)) / 2;
  const foot: readonly Turning[] =
    name === 'lid'
      ? [
          [outer, tall],
          [0, tall],
        ]
      : torn(outer, inner, tall, scale);
  const side = (far: boolean): readonly Turning[] => {
    const joint = jointSide(shape, which, teeth, far);
    return bored
      ? [
          ...(name === 'body' ? [[inner, tall] as const] : []),
          [inner, boreDepth],
          ...joint.toReversed(),
          [outer, 0],
          ...foot,
        ]
      : [[inner, 0], ...joint, [outer, spigotLength], ...foot];
  };
  return { name, which, tall, closed: name === 'lid' || (!bored && shape.hollow === null), side };
}

/** Lid first, body second. */
export const partsOf = (
  shape: BoxShape,
  bored: 'lid' | 'body',
  scale: number,
): readonly [DrawnPart, DrawnPart] => [
  partOf(shape, 'lid', bored === 'lid' ? 'female' : 'male', scale),
  partOf(shape, 'body', bored === 'body' ? 'female' : 'male', scale),
];
