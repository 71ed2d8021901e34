// Lid and body as outlines: radius over distance from the open end, with thread, chamfer and runout groove, closed or torn off.
import { type Point, sectionOf } from '../core/thread/section.ts';
import { mm } from '../core/units.ts';
import type { BoxShape, ShapeThread } from './shape.ts';

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

/** The thread's surface from the shoulder on, over a length; `turned` by half a lead on the far side of the axis. */
function surfaceOf(
  shape: BoxShape,
  thread: ShapeThread,
  which: 'female' | 'male',
  far: boolean,
): readonly Point[] {
  const { pair } = thread;
  const shift = far ? ((pair.starts * pair.pitch) / 2) % pair.pitch : 0;
  const pitches = Math.ceil(shape.boreDepth / pair.pitch) + 2;
  const section = sectionOf(pair, mm(shape.spigot - shape.bore), pitches);
  return section[which].slice(0, -2).map(({ along, out }) => ({ along: mm(along - shift), out }));
}

/** Places worth a point between two levels: the surface's corners, and along the chamfer, where it and the thread may cross. */
function places(corners: readonly number[], from: number, to: number, chamfer: number): readonly number[] {
  const bevel = Array.from({ length: 9 }, (_, at) => from + (chamfer * at) / 8);
  const within = [...corners, ...bevel].filter((along) => along > from && along < to);
  return [...new Set([from, ...within, to])].sort((a, b) => a - b);
}

/** The bore from rim to bottom: chamfer, thread, runout groove. Void of any of them is void. */
function boreSide(shape: BoxShape, teeth: boolean, far: boolean): readonly Turning[] {
  const { thread, boreDepth, chamfer } = shape;
  const radius = shape.bore / 2;
  const bevel = (away: number): number => radius + Math.max(0, chamfer.female - away);
  if (!thread)
    return [
      [radius + chamfer.female, 0],
      [radius, chamfer.female],
      [radius, boreDepth],
    ];
  const end = boreDepth - thread.runout.width;
  const groove = radius + thread.runout.female;
  const points = teeth ? surfaceOf(shape, thread, 'female', far) : [];
  const cut = (away: number): number => Math.max(bevel(away), radius + (teeth ? levelAt(points, away) : 0));
  const threaded = places(
    points.map(({ along }) => along),
    0,
    end,
    chamfer.female,
  ).map((away): Turning => [cut(away), away]);
  const simple: readonly Turning[] = [
    [bevel(0), 0],
    [radius, chamfer.female],
    [radius, end],
  ];
  return [...(teeth ? threaded : simple), [groove, end], [groove, boreDepth]];
}

/** The spigot from its end to the shoulder: chamfer, thread, runout groove. Wood only where all of them leave it. */
function spigotSide(shape: BoxShape, teeth: boolean, far: boolean): readonly Turning[] {
  const { thread, spigotLength, chamfer } = shape;
  const radius = shape.spigot / 2;
  const bevel = (away: number): number => radius - Math.max(0, chamfer.male - away);
  if (!thread)
    return [
      [radius - chamfer.male, 0],
      [radius, chamfer.male],
      [radius, spigotLength],
    ];
  const end = spigotLength - thread.runout.width;
  const groove = radius - thread.runout.male;
  const points = teeth ? surfaceOf(shape, thread, 'male', far) : [];
  const cut = (away: number): number =>
    Math.min(bevel(away), teeth ? shape.bore / 2 + levelAt(points, spigotLength - away) : radius);
  const corners = points.map(({ along }) => spigotLength - along);
  const threaded = places(corners, 0, end, chamfer.male).map((away): Turning => [cut(away), away]);
  const simple: readonly Turning[] = [
    [bevel(0), 0],
    [radius, chamfer.male],
    [radius, end],
  ];
  return [...(teeth ? threaded : simple), [groove, end], [groove, spigotLength]];
}

export interface DrawnPart {
  readonly name: 'lid' | 'body';
  readonly which: 'female' | 'male';
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

const teethOf = ({ thread }: BoxShape, scale: number): boolean =>
  !thread || showsTeeth(thread.pair.pitch, scale);

function boredLid(shape: BoxShape, scale: number): DrawnPart {
  const { boreDepth } = shape;
  const tall = boreDepth + shape.wall;
  const outer = shape.outside / 2;
  const side = (far: boolean): readonly Turning[] => [
    [0, boreDepth],
    ...boreSide(shape, teethOf(shape, scale), far).toReversed(),
    ...([
      [outer, 0],
      [outer, tall],
      [0, tall],
    ] as const),
  ];
  return { name: 'lid', which: 'female', tall, closed: true, side };
}

function boredBody(shape: BoxShape, scale: number): DrawnPart {
  const [outer, inner] = [shape.outside / 2, shape.bore / 2];
  const tall = shape.boreDepth + STUMP / scale;
  const side = (far: boolean): readonly Turning[] => [
    [inner, tall],
    [inner, shape.boreDepth],
    ...boreSide(shape, teethOf(shape, scale), far).toReversed(),
    [outer, 0],
    ...torn(outer, inner, tall, scale),
  ];
  return { name: 'body', which: 'female', tall, closed: false, side };
}

function turnedLid(shape: BoxShape, scale: number): DrawnPart {
  const tall = shape.spigotLength + shape.wall;
  const outer = shape.outside / 2;
  const side = (far: boolean): readonly Turning[] => [
    [0, 0],
    ...spigotSide(shape, teethOf(shape, scale), far),
    ...([
      [outer, shape.spigotLength],
      [outer, tall],
      [0, tall],
    ] as const),
  ];
  return { name: 'lid', which: 'male', tall, closed: true, side };
}

function turnedBody(shape: BoxShape, scale: number): DrawnPart {
  const [outer, inner] = [shape.outside / 2, (shape.hollow ?? 0) / 2];
  const tall = shape.spigotLength + STUMP / scale;
  const side = (far: boolean): readonly Turning[] => [
    [inner, 0],
    ...spigotSide(shape, teethOf(shape, scale), far),
    [outer, shape.spigotLength],
    ...torn(outer, inner, tall, scale),
  ];
  return { name: 'body', which: 'male', tall, closed: shape.hollow === null, side };
}

/** Lid first, body second. */
export const partsOf = (
  shape: BoxShape,
  bored: 'lid' | 'body',
  scale: number,
): readonly [DrawnPart, DrawnPart] =>
  bored === 'lid'
    ? [boredLid(shape, scale), turnedBody(shape, scale)]
    : [turnedLid(shape, scale), boredBody(shape, scale)];
