// One side of a part's section: radius over distance from its open end, with thread, chamfer and runout groove.
import { type Point, sectionOf } from '../core/thread/section.ts';
import { mm } from '../core/units.ts';
import type { Shape, Thread } from './shape.ts';

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
function surfaceOf(shape: Shape, thread: Thread, which: 'female' | 'male', far: boolean): readonly Point[] {
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
export function boreSide(shape: Shape, teeth: boolean, far: boolean): readonly Turning[] {
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
export function spigotSide(shape: Shape, teeth: boolean, far: boolean): readonly Turning[] {
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
