// The thread profile of the pair, enlarged to a stated scale: both parts in axial section with the clearance between them.

import type { Job } from '../core/bench/job.ts';
import { expectedOf, pairOf } from '../core/bench/target.ts';
import { fitOf, limitsOf } from '../core/thread/fit.ts';
import { type Point, sectionOf } from '../core/thread/section.ts';
import { type Length, type LengthUnit, mm } from '../core/units.ts';
import { figure } from './figures.ts';
import { dimension, drawing, polygon, text } from './svg.ts';

const WIDTH = 82;
const PITCHES = 3;
const TOP = 10;

/** The profile as an SVG drawing, or null for a plain lid, or where there is no bore or no fit to draw. */
export function profileDrawing(job: Job, unit: LengthUnit): string | null {
  if (job.setup.fit === 'plain' || !job.bore) return null;
  const pair = pairOf(job, job.bore.diameter);
  const limits = limitsOf(pair);
  if (limits.kind !== 'limits') return null;
  const spigot = job.spigot?.diameter ?? mm(job.bore.diameter + limits.limit - job.setup.wanted);
  const expected = expectedOf(job, spigot);
  const fit = fitOf(pair, job.bore.diameter, spigot, job.setup.bounds);
  if (expected.kind !== 'expected' || fit.kind !== 'fit') return null;
  return drawProfile(job, sectionOf(pair, fit.allowance, PITCHES), expected.clearance, unit);
}

/** The largest round scale that fits the width: 20, 10, 5, 2 or 1. */
const scaleFor = (length: Length): number => [20, 10, 5, 2].find((scale) => length * scale <= WIDTH - 4) ?? 1;

function drawProfile(
  job: Job,
  section: ReturnType<typeof sectionOf>,
  clearance: Length,
  unit: LengthUnit,
): string {
  const scale = scaleFor(section.length);
  const [left, height] = [(WIDTH - section.length * scale) / 2, (section.to - section.from) * scale];
  const place = ({ along, out }: Point): readonly [number, number] => [
    left + along * scale,
    TOP + (section.to - out) * scale,
  ];
  const pitch = job.setup.pitch.length * scale;
  const below = TOP + height + 5;
  const title = `Thread profile of the pair, ${scale} to 1`;
  const content = [
    text(left, 4, `profile ${scale}:1, clearance ${figure(clearance, unit)} ${unit} on the diameter`),
    polygon(section.female.map(place), { class: 'bored' }),
    polygon(section.male.map(place), { class: 'turned' }),
    dimension(left, left + pitch, below, `pitch ${figure(job.setup.pitch.length, unit)}`),
    text(left, below + 5, 'above: bored part; below: spigot'),
  ];
  return drawing(WIDTH, below + 8, title, content.join(''));
}
