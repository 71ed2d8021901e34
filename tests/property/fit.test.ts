// Laws of the fit: limits against an overlap search of the two profiles, and what every pair must obey.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { type FitBounds, fitOf, limitsOf, targetSpigot } from '../../src/core/thread/fit.ts';
import type { Tip } from '../../src/core/thread/form.ts';
import { wideningBy } from '../../src/core/thread/milling.ts';
import type { Groove, Pair } from '../../src/core/thread/pair.ts';
import { degrees, mm } from '../../src/core/units.ts';
import { number } from '../support/arbitrary.ts';
import { ofKind } from '../support/of-kind.ts';

/** A groove as shares: how deep of what leaves a crest, how large a tip of the pitch. */
const grooveShares = fc.record({
  kind: fc.constantFrom('sharp', 'flat', 'radius'),
  size: number(0.02, 0.16),
  deep: number(0.3, 0.97),
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
function groove(shares: Shares['female'], pitch: number, angle: number): Groove {
  const half = (angle * Math.PI) / 360;
  const height = pitch / 2 / Math.tan(half);
  const size = mm(shares.size * pitch);
  if (shares.kind === 'flat') {
    const loss = size / 2 / Math.tan(half);
    return { depth: mm(shares.deep * (height - loss)), tip: { kind: 'flat', width: size } };
  }
  if (shares.kind === 'radius') {
    const loss = size / Math.sin(half) - size;
    const nose = size - size * Math.sin(half);
    const room = height - loss;
    return { depth: mm(nose + shares.deep * (room - nose)), tip: { kind: 'radius', radius: size } };
  }
  return { depth: mm(shares.deep * height), tip: { kind: 'sharp' } };
}

const pairOf = (shares: Shares): Pair => ({
  pitch: mm(shares.pitch),
  starts: shares.starts,
  angle: degrees(shares.angle),
  female: groove(shares.female, shares.pitch, shares.angle),
  male: groove(shares.male, shares.pitch, shares.angle),
});
/** Pairs whose grooves leave a crest: a narrow form with a large flat may leave none. */
const pairs = pairShares.map(pairOf).filter((pair) => limitsOf(pair).kind === 'limits');

/** Depth cut at an axial distance from the cutter's middle, by lines and circles alone. */
function cutAt(of: Groove, angle: number, from: number): number {
  const half = angle / 2;
  const corner = tangentPoint(of.tip, half);
  if (from > corner.across)
    return Math.max(0, of.depth - corner.up - (from - corner.across) / Math.tan(half));
  if (of.tip.kind !== 'radius') return of.depth;
  return of.depth - of.tip.radius + Math.sqrt(of.tip.radius ** 2 - from ** 2);
}
function tangentPoint(tip: Tip, half: number): { across: number; up: number } {
  if (tip.kind === 'flat') return { across: tip.width / 2, up: 0 };
  if (tip.kind === 'sharp') return { across: 0, up: 0 };
  return { across: tip.radius * Math.cos(half), up: tip.radius - tip.radius * Math.sin(half) };
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

test('one more feed of k on either part adds 2k, while the flanks limit', () => {
  fc.assert(
    fc.property(pairs, number(0.01, 0.3), fc.constantFrom('female', 'male'), (pair, feed, part) => {
      const deeper = { ...pair, [part]: { ...pair[part], depth: mm(pair[part].depth + feed) } };
      const [before, after] = [limitsOf(pair), limitsOf(deeper)];
      if (before.kind !== 'limits' || after.kind !== 'limits') return;
      expect(after.flank - before.flank).toBeCloseTo(2 * feed, 9);
      if (before.limitedBy === 'flank' && after.limitedBy === 'flank')
        expect(after.limit - before.limit).toBeCloseTo(2 * feed, 9);
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

const scaledTip = (tip: Tip, by: number): Tip => {
  if (tip.kind === 'flat') return { kind: 'flat', width: mm(tip.width * by) };
  return tip.kind === 'radius' ? { kind: 'radius', radius: mm(tip.radius * by) } : tip;
};
const scaledGroove = (of: Groove, by: number): Groove => ({
  depth: mm(of.depth * by),
  tip: scaledTip(of.tip, by),
});

test('scaling all lengths scales all answers', () => {
  fc.assert(
    fc.property(pairs, number(0.1, 10), number(20, 80), number(-0.2, 2), (pair, by, bore, over) => {
      const large: Pair = {
        ...pair,
        pitch: mm(pair.pitch * by),
        female: scaledGroove(pair.female, by),
        male: scaledGroove(pair.male, by),
      };
      const bounds: FitBounds = { runningFrom: mm(0.08), looseFrom: mm(0.3) };
      const largeBounds: FitBounds = { runningFrom: mm(0.08 * by), looseFrom: mm(0.3 * by) };
      const one = ofKind('fit', fitOf(pair, mm(bore), mm(bore + over), bounds));
      const other = ofKind('fit', fitOf(large, mm(bore * by), mm((bore + over) * by), largeBounds));
      const [limits, largeLimits] = [limitsOf(pair), limitsOf(large)];
      if (limits.kind !== 'limits' || largeLimits.kind !== 'limits') throw new Error('no limits');
      const pairsOf = [
        [one.clearance, other.clearance],
        [one.play, other.play],
        [limits.flank, largeLimits.flank],
        [limits.root, largeLimits.root],
        [limits.corner, largeLimits.corner],
      ];
      for (const [small, scaled] of pairsOf) expect((scaled ?? 0) / by).toBeCloseTo(small ?? 0, 7);
      expect(other.engagement).toBeCloseTo(one.engagement, 9);
      // At a bound itself the last binary digit decides.
      const apart = [0, bounds.runningFrom, bounds.looseFrom].map((bound) => Math.abs(one.clearance - bound));
      if (Math.min(...apart) > 1e-9) expect(other.word).toBe(one.word);
    }),
  );
});

test('scaling all lengths scales the widening by a disc', () => {
  fc.assert(
    fc.property(
      number(0.1, 10),
      number(25, 80),
      number(0.2, 0.9),
      fc.constantFrom('female', 'male'),
      (by, surface, ratio, part) => {
        const disc = (scale: number) =>
          wideningBy({
            part,
            surface: mm(surface * scale),
            cutter: mm(ratio * surface * scale),
            depth: mm(scale),
            pitch: mm(1.5 * scale),
            starts: 1,
            angle: degrees(60),
          });
        const [one, other] = [disc(1), disc(by)];
        if (one.kind !== 'widening' || other.kind !== 'widening') throw new Error('no widening');
        expect(other.perFlank / by).toBeCloseTo(one.perFlank, 9);
      },
    ),
  );
});
