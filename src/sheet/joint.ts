// The joint of the box in section, to a stated scale: bored part above, spigot below, with the diameters that matter.
import type { Job } from '../core/bench/job.ts';
import { aimOf, depthOf } from '../core/bench/target.ts';
import { type Length, type LengthUnit, mm } from '../core/units.ts';
import { figure } from './figures.ts';
import { dimension, drawing, line, polygon, text } from './svg.ts';

const WIDTH = 92;
/** Drawn where no plan says otherwise: three engaged turns and a wall of 5 mm (common practice, no source). */
const TURNS = 3;
const WALL = 5;
const MARGIN = 6;

interface Shape {
  readonly bore: number;
  readonly spigot: number;
  readonly female: number;
  readonly male: number;
  readonly engaged: number;
  readonly wall: number;
}

function shapeOf(job: Job): Shape | null {
  const aim = aimOf(job);
  const bore = job.bore?.diameter ?? job.setup.plannedBore;
  if (bore === undefined) return null;
  const target = aim.kind === 'aim' ? aim.target : mm(bore - job.setup.wanted);
  const threaded = job.setup.fit === 'threaded';
  const lead = job.setup.pitch.length * job.setup.starts;
  return {
    bore,
    spigot: job.spigot?.diameter ?? target,
    female: threaded ? depthOf(job, 'female') : 0,
    male: threaded ? depthOf(job, 'male') : 0,
    engaged: job.setup.engagedLength ?? (threaded ? TURNS * lead : 6),
    wall: WALL,
  };
}

const scaleFor = (width: number): readonly [number, string] =>
  width <= WIDTH - 2 * MARGIN ? [1, '1:1'] : width / 2 <= WIDTH - 2 * MARGIN ? [0.5, '1:2'] : [0.2, '1:5'];

/** The joint as an SVG drawing; null before a bore is known or planned. */
export function jointDrawing(job: Job, unit: LengthUnit): string | null {
  const shape = shapeOf(job);
  return shape ? drawJoint(job, shape, unit) : null;
}

/** Each part as two half sections about the axis; the zone that is threaded shows as a second line at its depth. */
function drawJoint(job: Job, shape: Shape, unit: LengthUnit): string {
  const outside = Math.max(shape.bore + 2 * shape.female, shape.spigot) + 2 * shape.wall;
  const [scale, named] = scaleFor(outside);
  const middle = WIDTH / 2;
  const x = (radius: number): number => middle + radius * scale;
  const [top, depth] = [16, shape.engaged * scale + 4];
  const rim = top + depth;
  const foot = rim + 14;
  const sides = [1, -1].flatMap((side) => {
    const at = (diameter: number): number => x((side * diameter) / 2);
    const bored = [
      [at(outside), top - 4],
      [at(outside), rim],
      [at(shape.bore), rim],
      [at(shape.bore), top],
      [middle, top],
      [middle, top - 4],
    ] as const;
    const inner = shape.spigot - 2 * shape.male - 4;
    const turned = [
      [at(shape.spigot), top + 0.6],
      [at(shape.spigot), rim],
      [at(outside), rim],
      [at(outside), foot],
      [at(inner), foot],
      [at(inner), top + 0.6],
    ] as const;
    return [
      polygon(turned, { class: 'turned' }),
      polygon(bored, { class: 'bored' }),
      ...(shape.female > 0
        ? [line(at(shape.bore + 2 * shape.female), top + 1, at(shape.bore + 2 * shape.female), rim)]
        : []),
    ];
  });
  const bored = job.setup.bored === 'lid' ? 'lid' : 'body';
  const turned = bored === 'lid' ? 'body' : 'lid';
  const content = [
    text(2, 4, `joint ${named}: ${bored} bored (above), ${turned} with the spigot (below)`),
    ...sides,
    line(middle, top - 6, middle, foot + 3, { class: 'axis' }),
    dimension(x(-shape.bore / 2), x(shape.bore / 2), top - 6, `bore ${figure(mm(shape.bore), unit)}`),
    dimension(
      x(-shape.spigot / 2),
      x(shape.spigot / 2),
      foot + 7,
      `spigot ${figure(mm(shape.spigot), unit)}`,
    ),
    text(
      2,
      foot + 13,
      `outside and wall as an example; engaged length ${figure(mm(shape.engaged) as Length, unit)} ${unit}`,
    ),
  ];
  return drawing(WIDTH, foot + 16, `Section of the joint, scale ${named}`, content.join(''));
}
