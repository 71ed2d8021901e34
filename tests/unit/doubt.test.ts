// How sure a job's fit is, and its seasons: each share of the doubt where it is known, and each wood on its own part.
import { describe, expect, test } from 'vitest';
import { boreDoubt, clearanceInDoubt, expectedLimitShift } from '../../src/core/bench/doubt.ts';
import type { Fact } from '../../src/core/bench/entry.ts';
import type { Job } from '../../src/core/bench/job.ts';
import { MADE, seasonLoss, seasonsOf } from '../../src/core/bench/seasons.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { aimOf, boundsOverRange, expectedOf, trialChances } from '../../src/core/bench/target.ts';
import { humidityPercent, mm } from '../../src/core/units.ts';
import { MOISTURE_EQUATIONS } from '../../src/core/wood/moisture.ts';
import { ringOf } from '../../src/core/wood/movement.ts';
import { seasonOf } from '../../src/core/wood/season.ts';
import { findWood } from '../../src/core/wood/woods.ts';
import { TYPED_BORE, threaded } from '../support/bench.ts';
import { jobWith } from '../support/job.ts';
import { ofKind } from '../support/of-kind.ts';

const job = (setup: Setup, ...facts: readonly Fact[]): Job => jobWith(setup, facts);
const bore: Fact = { kind: 'bore-taken', diameter: mm(42.3), ...TYPED_BORE };
const rocked: Fact = {
  ...{ ...bore, how: 'rocked', standard: mm(0.004) },
  ...{ degreesOfFreedom: 6, tops: 8, agreeing: 8 },
};
/** Threads that make no pair. */
const unmatched: Setup = { ...threaded, depth: { female: mm(1.5), male: mm(1) } };
const plain: Setup = { ...threaded, fit: 'plain' };
const { feed, ...byEye } = threaded;
if (!feed) throw new Error('no feed');
const standardOf = (of: Job, counting: 'all' | 'measured' = 'measured') =>
  clearanceInDoubt(of, counting)?.standard;

/** A caliper within 0.03 mm that shows hundredths, both as rectangles (JCGM 100:2008, 4.3.7, from memory). */
const CALIPER = Math.hypot(0.03 / Math.sqrt(3), 0.01 / Math.sqrt(12));
/** Two touch-offs known within so much, radial, so each counts twice on the diameter. */
const touchOffs = (within: number) => Math.SQRT2 * ((2 * within) / Math.sqrt(3));
/** Two depths of this many detents by one feed whose detent is known to 0.001 mm: one error, radial, in both. */
const feeds = (detents: number) => 2 * 2 * detents * 0.001;

/** A turner who touches off within this. */
const careful = (within: number): Setup => ({ ...threaded, feed: { ...feed, touchOff: mm(within) } });
const cuts = (['female', 'male'] as const).map(
  (part): Fact => ({ kind: 'thread-cut', part, detents: 6, depth: mm(1.2), proven: true }),
);
const zero: Fact = { kind: 'zero-taken', error: mm(0.02), standard: mm(0.005), applied: true };

describe('the doubt of a clearance', () => {
  test.each<[string, Job, ...beside: number[]]>([
    ['two diameters, two touch-offs and the detents', job(threaded, bore), touchOffs(0.2), feeds(5)],
    ['its diameters alone, of a plain lid', job(plain, bore)],
    ['how well the turner touches off', job(careful(0.03), bore), touchOffs(0.03), feeds(5)],
    ['touching off by eye, where no feed is known', job(byEye, bore), touchOffs(0.05)],
    ['the detents really fed', job(careful(0.03), bore, ...cuts), touchOffs(0.03), feeds(6)],
    ['the zero check', job(plain, zero, bore), Math.SQRT2 * 0.005],
    ['the capture', job(plain, rocked), 0.004],
  ])('is that of %s', (_, of, ...beside) => {
    expect(standardOf(of)).toBeCloseTo(Math.hypot(Math.SQRT2 * CALIPER, ...beside), 12);
  });

  test('keeps the degrees of freedom of the capture', () => {
    const degrees = (fact: Fact) => boreDoubt(job(threaded, fact))?.degreesOfFreedom;
    expect(degrees(bore)).toBe(Number.POSITIVE_INFINITY);
    expect(degrees({ ...rocked, degreesOfFreedom: null } as Fact)).toBe(Number.POSITIVE_INFINITY);
    // Welch and Satterthwaite: u^4 / (u_i^4 / nu_i) (JCGM 100:2008, G.4.1, from memory).
    expect(degrees(rocked)).toBeCloseTo((6 * Math.hypot(CALIPER, 0.004) ** 4) / 0.004 ** 4, 6);
  });

  test('has the bias of the setup from the first box on, except for a trial that is to teach', () => {
    const taught = { ...threaded, learned: { shift: mm(0), spread: mm(0.1), reasons: [] } };
    const plain = standardOf(job(threaded, bore)) ?? 0;
    expect(standardOf(job(threaded, bore), 'all')).toBeCloseTo(Math.hypot(plain, 0.15), 12);
    expect(standardOf(job(taught, bore), 'all')).toBeCloseTo(Math.hypot(plain, 0.1), 12);
    expect(standardOf(job(taught, bore))).toBeCloseTo(plain, 12);
  });

  test('keeps the few degrees of freedom of a feed that was calibrated by two travels', () => {
    const freedom = (perDetentFreedom?: number) => {
      const known = perDetentFreedom === undefined ? {} : { perDetentFreedom };
      const of = job({ ...threaded, feed: { ...feed, perDetentStandard: mm(0.02), ...known } }, bore);
      return clearanceInDoubt(of, 'measured')?.degreesOfFreedom;
    };
    expect(freedom(1)).toBeLessThan(3);
    expect(freedom()).toBe(Number.POSITIVE_INFINITY);
  });

  test('is unknown without a bore, and where the threads make no pair', () => {
    expect(clearanceInDoubt(job(threaded))).toBeNull();
    expect(clearanceInDoubt(job(unmatched, bore))).toBeNull();
  });
});

test('the shallower of two uncertain depths shifts the limit, where the roots decide', () => {
  const cutter = { ...threaded.cutter, tip: { kind: 'flat', width: mm(0.6) } } as const;
  const rooted = { ...careful(0.05), cutter, depth: { female: mm(0.8), male: mm(0.8) } };
  // twice a third of the half-width, as in chances.ts
  expect(expectedLimitShift(job(rooted, bore))).toBeCloseTo((-2 * 0.05) / 3, 3);
  expect(expectedLimitShift(job(careful(0.05), bore))).toBeCloseTo(0, 9);
  for (const none of [
    job(rooted),
    job({ ...rooted, fit: 'plain' }, bore),
    job({ ...rooted, depth: unmatched.depth }, bore),
  ])
    expect(expectedLimitShift(none)).toBe(0);
});

describe('the chances of a first trial', () => {
  test('add up to one, and running is likelier at the target than off it', () => {
    const at = trialChances(job(threaded, bore), { diameter: mm(43.4) });
    const off = trialChances(job(threaded, bore), { diameter: mm(43.6) });
    if (!at || !off) throw new Error('no chances');
    expect(Object.values(at).reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 9);
    expect(at.running).toBeGreaterThan(off.running);
    expect(off.seized).toBeGreaterThan(at.seized);
  });

  test('are unknown without a bore or a fit', () => {
    expect(trialChances(job(threaded), { diameter: mm(43.4) })).toBeNull();
    expect(trialChances(job(unmatched, bore), { diameter: mm(43.4) })).toBeNull();
    expect(trialChances(job(threaded, bore), { diameter: mm(-1) })).toBeNull();
  });
});

const part = (wood: string) => {
  const [figures] = ofKind('found', findWood(wood)).wood.figures;
  if (!figures) throw new Error(`no figures for ${wood}`);
  return { ring: ringOf(figures, 'end'), made: MADE };
};

describe('seasons', () => {
  test.each([
    ['lid', { bore: part('maple, sugar'), spigot: part('boxwood') }],
    ['body', { bore: part('boxwood'), spigot: part('maple, sugar') }],
  ] as const)('with a bored %s the bore is of its wood and the spigot of the other', (bored, parts) => {
    const pair = { diameter: mm(42.3), clearance: mm(0.15), ...parts };
    const woods = { bored, wood: 'boxwood', lidWood: 'maple, sugar' };
    expect(seasonsOf(woods, pair.diameter, pair.clearance, mm(0.08))).toEqual(
      MOISTURE_EQUATIONS.map((by) => {
        const season = seasonOf(pair, { by, temperature: MADE.temperature }, mm(0.08));
        return { by, source: null, season };
      }),
    );
  });

  test('are of one wood where the lid’s was not said, and none where either is in no table', () => {
    const range = { from: humidityPercent(30), to: humidityPercent(65) };
    const needed = (wood?: string, lidWood?: string, bored: 'lid' | 'body' = 'lid') =>
      seasonLoss({ bored, ...(wood ? { wood } : {}), ...(lidWood ? { lidWood } : {}) }, mm(60), range);
    expect(needed('maple, sugar')).toBe(needed('maple, sugar', 'maple, sugar'));
    expect(needed('maple, sugar')).toBeGreaterThan(0);
    expect(needed('maple, sugar', 'boxwood')).not.toBe(needed('maple, sugar', 'boxwood', 'body'));
    expect(needed('maple, sugar', 'boxwood', 'body')).toBe(needed('boxwood', 'maple, sugar'));
    const unknown = [needed(), needed('moonwood'), needed('maple, sugar', 'moonwood')];
    expect([...unknown, needed('moonwood', 'maple, sugar')]).toEqual([null, null, null, null]);
  });

  test('raise the clearance, so that the wanted one remains in the worst air; target, band and chances agree', () => {
    const season = { from: humidityPercent(30), to: humidityPercent(65), remains: mm(0.19) };
    const learned = { shift: mm(0), spread: mm(0.02), reasons: [] };
    const made: Setup = { ...careful(0.01), wood: 'maple, sugar', season, learned };
    const at = job(made, bore);
    const loss = seasonLoss(made, mm(42.3), season) ?? Number.NaN;
    const aim = ofKind('aim', aimOf(at));
    expect(loss).toBeGreaterThan(0.1);
    expect(expectedOf(at, { diameter: aim.target })).toMatchObject({
      clearance: expect.closeTo(0.19 + loss, 9),
      word: 'running',
    });
    expect([aim.low < aim.target, aim.target < aim.high]).toEqual([true, true]);
    expect(trialChances(at, { diameter: aim.target }, boundsOverRange(at))?.running).toBeGreaterThan(0.9);
    // in the air it is tried in the same lid is looser by what the worst air will take
    const tried = trialChances(at, { diameter: aim.target });
    expect((tried?.running ?? 0) + (tried?.loose ?? 0)).toBeGreaterThan(0.99);
  });
});
