// Laws of the fit: limits against an overlap search of the two profiles, and what every pair must obey.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { fitOf, limitsOf, targetSpigot } from '../../src/core/thread/fit.ts';
import type { Tip } from '../../src/core/thread/form.ts';
import type { Groove, Pair } from '../../src/core/thread/pair.ts';
import { degrees, mm } from '../../src/core/units.ts';
import { number } from '../support/arbitrary.ts';
import { ofKind } from '../support/of-kind.ts';

/** A groove as shares: how deep of what leaves a crest, how large a tip and a widening of the pitch. */
const grooveShares = fc.record({
  kind: fc.constantFrom('sharp', 'flat', 'radius'),
  size: number(0.02, 0.16),
  deep: number(0.3, 0.97),
  wide: fc.oneof(fc.constant(0), number(0, 0.02)),
});
const pairShares = fc.record({
  pitch: number(0.8, 4),
  angle: number(29, 60),
  starts: fc.integer({ min: 1, max: 4 }),
  female: grooveShares,
  male: grooveShares,
});
type Shares = typeof pairShares extends fc.Arbitrary<infer T> ? T : never;

/** The tip's loss worked out here again: the distance from the sharp point of two lines to the tip. */
function groove({ kind, size, deep, wide }: Shares['female'], pitch: number, angle: number): Groove {
  const half = (angle * Math.PI) / 360;
  const [height, tip, widening] = [pitch / 2 / Math.tan(half), mm(size * pitch), mm(wide * pitch)];
  if (kind === 'flat') {
    const loss = tip / 2 / Math.tan(half);
    return { depth: mm(deep * (height - loss)), tip: { kind, width: tip }, widening };
  }
  if (kind === 'sharp') return { depth: mm(deep * height), tip: { kind }, widening };
  const [loss, nose] = [tip / Math.sin(half) - tip, tip - tip * Math.sin(half)];
  return { depth: mm(nose + deep * (height - loss - nose)), tip: { kind, radius: tip }, widening };
}

const pairOf = (shares: Shares): Pair => ({
  pitch: mm(shares.pitch),
  starts: shares.starts,
  angle: degrees(shares.angle),
  female: groove(shares.female, shares.pitch, shares.angle),
  male: groove(shares.male, shares.pitch, shares.angle),
});
/** Pairs whose grooves leave a crest: a narrow form with a large flat, or a wide groove, may leave none. */
const pairs = pairShares.map(pairOf).filter((pair) => limitsOf(pair).kind === 'limits');

/** Depth cut at an axial distance from the cutter's middle, by lines and circles alone; a wide groove is two, parted by its widening. */
function cutAt({ depth, tip, widening = mm(0) }: Groove, angle: number, from: number): number {
  const half = angle / 2;
  const off = Math.max(0, from - widening);
  const corner = tangentPoint(tip, half);
  if (off > corner.across) return Math.max(0, depth - corner.up - (off - corner.across) / Math.tan(half));
  return tip.kind === 'radius' ? depth - tip.radius + Math.sqrt(tip.radius ** 2 - off ** 2) : depth;
}
function tangentPoint(tip: Tip, half: number): { across: number; up: number } {
  if (tip.kind === 'radius')
    return { across: tip.radius * Math.cos(half), up: tip.radius - tip.radius * Math.sin(half) };
  return { across: tip.kind === 'flat' ? tip.width / 2 : 0, up: 0 };
}

const GRID = 3000;

/** The largest allowance without overlap, both profiles laid over each other half a pitch apart, the male shifted along. */
function searched(pair: Pair, shift = 0): number {
  let least = Number.POSITIVE_INFINITY;
  for (let at = -GRID; at < GRID; at++) {
    const along = ((at + 0.5) / GRID) * (pair.pitch / 2);
    const fromFemale = Math.abs(along);
    const shifted = along - shift;
    const wrapped = shifted - pair.pitch * Math.round(shifted / pair.pitch);
    const room =
      cutAt(pair.female, pair.angle, fromFemale) +
      cutAt(pair.male, pair.angle, pair.pitch / 2 - Math.abs(wrapped));
    if (room < least) least = room;
  }
  return 2 * least;
}

/** What one step of the search can miss: the steepest outline times half a step, on two parts, diametral. */
const slack = (pair: Pair): number => (2 * pair.pitch) / GRID / Math.tan(pair.angle / 2);

test('the limits are those of an overlap search of the two profiles, and each of them is the one that counts in some pairs', () => {
  const counted = { flank: 0, root: 0, corner: 0 };
  fc.assert(
    fc.property(pairs, (pair) => {
      const limits = ofKind('limits', limitsOf(pair));
      const { flank, root, corner } = limits;
      const least = Math.min(flank, root, corner);
      counted[least === flank ? 'flank' : least === root ? 'root' : 'corner'] += 1;
      // Threads too shallow to reach each other: the search then ends where the crests pass, at no allowance.
      expect(Math.abs(searched(pair) - Math.max(least, 0))).toBeLessThan(slack(pair));
    }),
    { numRuns: 400, seed: 1 },
  );
  expect(Math.min(counted.flank, counted.root, counted.corner)).toBeGreaterThan(10);
});

test('no lid shifted along its axis goes over more than the limit', () => {
  fc.assert(
    fc.property(pairs, number(-0.5, 0.5), (pair, shift) => {
      const limits = ofKind('limits', limitsOf(pair));
      expect(searched(pair, shift * pair.pitch)).toBeLessThan(Math.max(limits.limit, 0) + slack(pair));
    }),
    { numRuns: 100, seed: 2 },
  );
});

test('the axial play is how far the lid shifts before the flanks meet', () => {
  fc.assert(
    fc.property(pairs, number(0.02, 0.4), (pair, clearance) => {
      const limits = limitsOf(pair);
      if (limits.kind !== 'limits' || limits.flank > Math.min(limits.root, limits.corner)) return;
      const allowance = limits.flank - clearance;
      if (allowance <= clearance) return;
      const fit = ofKind('fit', fitOf(pair, mm(50), mm(50 + allowance)));
      expect(searched(pair, 0.98 * (fit.play / 2))).toBeGreaterThan(allowance - slack(pair));
      expect(searched(pair, 1.02 * (fit.play / 2))).toBeLessThan(allowance + slack(pair));
      expect(Math.abs(searched(pair, fit.play / 2) - allowance)).toBeLessThan(slack(pair));
    }),
    { numRuns: 100, seed: 3 },
  );
});

test('clearance falls one for one with the spigot', () => {
  fc.assert(
    fc.property(pairs, number(5, 200), number(-1, 2), number(-0.5, 0.5), (pair, bore, over, more) => {
      const first = ofKind('fit', fitOf(pair, mm(bore), mm(bore + over)));
      const second = ofKind('fit', fitOf(pair, mm(bore), mm(bore + over + more)));
      expect(first.clearance - second.clearance).toBeCloseTo(more, 9);
    }),
  );
});

test('the target gives any clearance that is wanted', () => {
  fc.assert(
    fc.property(pairs, number(5, 200), number(-0.2, 0.6), (pair, bore, wanted) => {
      const target = targetSpigot(pair, mm(bore), mm(wanted));
      if (target.kind !== 'target') {
        expect(target.kind).toBe('no-engagement');
        return;
      }
      const fit = fitOf(pair, mm(bore), target.spigot);
      expect(ofKind('fit', fit).clearance).toBeCloseTo(wanted, 9);
      expect(ofKind('fit', fit).engagement).toBeGreaterThan(0);
    }),
  );
});
