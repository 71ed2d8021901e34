// The disc cutter: how much wider its groove comes out, inside and outside, against a search over the cutter.
import { expect, test } from 'vitest';
import { type Disc, extraHalfWidth, wideningOf } from '../../src/core/thread/milling.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';

const disc = (part: Disc['part'], surface: number, cutter: number, depth = 1): Disc => ({
  part,
  surface: mm(surface),
  cutter: mm(cutter),
  depth: mm(depth),
  pitch: tpi(16),
  starts: 1,
  angle: degrees(60),
});

/** The warning for a setup with this disc. */
const perFlank = ({ part, surface, cutter, depth, pitch, starts, angle }: Disc) =>
  wideningOf({ pitch: { length: pitch }, starts, cutter: { angle, diameter: cutter } }, part, surface, depth);

/** The largest reach of the cutter's flank at radius r, by steps of the turning angle alone. */
function searched({ part, surface, cutter, depth, pitch, angle }: Disc, r: number): number {
  const t = Math.tan(angle / 2);
  const [work, rim] = [surface / 2, cutter / 2];
  const axis = part === 'female' ? work + depth - rim : work - depth + rim;
  const nominal = t * (rim - Math.abs(axis - r));
  let most = nominal;
  for (let step = 0; step < 200_000; step++) {
    const theta = step * 1e-5;
    const [x, y] = [axis - r * Math.cos(theta), r * Math.sin(theta)];
    const rho = Math.hypot(x, y);
    if (rho <= rim) most = Math.max(most, t * (rim - rho) + (pitch * theta) / (2 * Math.PI));
  }
  return most - nominal;
}

test.each([
  ['female', 50, 20],
  ['female', 30, 25],
  ['female', 60, 45],
  ['male', 50, 20],
  ['male', 30, 60],
] as const)('%s %d mm by a %d mm cutter: as the search over the cutter finds it', (part, surface, cutter) => {
  const of = disc(part, surface, cutter);
  for (const r of [surface / 2, surface / 2 + (part === 'female' ? 0.5 : -0.5)])
    expect(extraHalfWidth(of, mm(r))).toBeCloseTo(searched(of, r), 7);
});

test('near the bottom only the rim reaches, and at the bottom nothing is added', () => {
  for (const of of [disc('female', 50, 20), disc('female', 30, 25), disc('male', 50, 20)]) {
    const out = of.part === 'female' ? 1 : -1;
    const near = of.surface / 2 + out * 0.9999;
    expect(extraHalfWidth(of, mm(near))).toBeCloseTo(searched(of, near), 5);
    expect(extraHalfWidth(of, mm(of.surface / 2 + out))).toBeCloseTo(0, 7);
  }
});

test('about 0.001 mm for 20 mm in 50, 0.012 mm for 25 mm in 30', () => {
  expect(perFlank(disc('female', 50, 20))).toBeCloseTo(0.001, 3);
  expect(perFlank(disc('female', 30, 25))).toBeCloseTo(0.012, 3);
});

test('outside it is less than inside, and least at the surface', () => {
  const inside = disc('female', 50, 25);
  const outside = disc('male', 50, 25);
  expect(extraHalfWidth(outside, mm(25))).toBeLessThan(extraHalfWidth(inside, mm(25)));
  expect(extraHalfWidth(inside, mm(25))).toBeLessThan(extraHalfWidth(inside, mm(25.5)));
  expect(extraHalfWidth(outside, mm(25))).toBeLessThan(extraHalfWidth(outside, mm(24.5)));
});

test('more starts climb faster and widen more', () => {
  const of = disc('female', 40, 20);
  expect(perFlank({ ...of, starts: 2 }) / perFlank(of)).toBeCloseTo(4, 1);
});

test.each<[string, Disc]>([
  ['a bore that the cutter does not enter', disc('female', 30, 30)],
  ['a cutter of no size', disc('female', 30, 0)],
  ['a pitch of no number', { ...disc('female', 30, 20), pitch: mm(Number.NaN) }],
  ['a spigot cut through', disc('male', 2, 20, 1.5)],
  ['one of which nothing is left', disc('male', 2, 20)],
])('widens nothing: %s', (_, of) => {
  expect(perFlank(of)).toBe(0);
});

test('a cutter that only just enters widens, and a setup without a disc nothing', () => {
  expect(perFlank(disc('female', 2, 1.5))).toBeGreaterThan(0);
  const without = { pitch: { length: tpi(16) }, starts: 1, cutter: { angle: degrees(60) } };
  expect(wideningOf(without, 'female', mm(50), mm(1))).toBe(0);
});
