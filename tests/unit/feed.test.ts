// Depth by the feed: counts from touch-off, lost motion, voids; and calibrating a feed both ways.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Calibration,
  type CalibrationRefusal,
  calibrateByPair,
  calibrateByTravel,
  calibrationRefusalText,
  type RunningPair,
} from '../../src/core/thread/calibrate.ts';
import { fedDepth, moveTo, startDepth, type Tracker, voidDepth } from '../../src/core/thread/depth.ts';
import { limitsOf, targetSpigot } from '../../src/core/thread/fit.ts';
import { flankSlope } from '../../src/core/thread/form.ts';
import { wideningOf } from '../../src/core/thread/milling.ts';
import type { Part } from '../../src/core/thread/pair.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';
import { number } from '../support/arbitrary.ts';
import { ofKind } from '../support/of-kind.ts';

describe('the tracker', () => {
  const feed = { perDetent: mm(0.2), lostDetents: 2 };
  const fed = (start: Tracker, ...counts: readonly number[]): Tracker => counts.reduce(moveTo, start);
  const near = (depth: number) => expect.closeTo(depth, 12);

  test.each<[string, readonly number[], object]>([
    [
      'counted from touch-off',
      [7, 8, 9, 12],
      { proven: true, detentsToProve: 0, depth: near(1), deepest: near(1) },
    ],
    ['at it', [9], { proven: true, depth: 0 }],
    [
      'turned back within the lost detents, which move nothing',
      [0, 5, 4],
      { proven: false, detentsToProve: 1, depth: near(1) },
    ],
    [
      'turned back further: the slide follows behind, and the groove keeps its depth',
      [0, 5, -3],
      { proven: false, detentsToProve: 2, depth: near(-0.2), deepest: near(1) },
    ],
    [
      'fed in again, the lost detents first',
      [0, 5, -3, -2],
      { proven: false, detentsToProve: 1, depth: near(-0.2) },
    ],
    ['then proven', [0, 5, -3, -2, -1, 0, 5, 6], { proven: true, depth: near(1.2) }],
  ])('%s: %o', (_, [touched = 0, ...counts], depth) => {
    expect(fedDepth(fed(startDepth(feed, touched), ...counts))).toMatchObject({ kind: 'depth', ...depth });
  });

  test('the depth is proven only after all lost motion, also where it is more than one turn of the handle', () => {
    // Ten detents a turn, thirteen of them lost: -8 leaves the slide at 5, -9 would move it.
    const back = fed(startDepth({ perDetent: mm(0.1), lostDetents: 13 }, 0), 5, -8);
    expect(fedDepth(back)).toMatchObject({ proven: false, depth: 0.5, detentsToProve: 13 });
    expect(fedDepth(fed(back, 2))).toMatchObject({ proven: false, depth: 0.5, detentsToProve: 3 });
    expect(fedDepth(fed(back, 5))).toMatchObject({ proven: true, depth: 0.5 });
    const tight = fed(startDepth({ perDetent: mm(0.1), lostDetents: 0 }, 0), 5, 3);
    expect(fedDepth(tight)).toMatchObject({ proven: true });
  });

  test('after a void nothing counts until a new touch-off', () => {
    const lost = voidDepth(fed(startDepth(feed, 7), 11), 'restart');
    expect(fedDepth(moveTo(lost, 9))).toEqual({ kind: 'void', why: 'restart', lastDepth: 0.8 });
    expect(moveTo(lost, 9)).toBe(lost);
    expect(voidDepth(lost, 'overrun')).toEqual(lost);
  });

  test('a wrong count or feed throws', () => {
    expect(() => startDepth(feed, 0.5)).toThrow(RangeError);
    expect(() => moveTo(startDepth(feed, 0), Number.NaN)).toThrow(RangeError);
    expect(() => startDepth({ perDetent: mm(0), lostDetents: 0 }, 0)).toThrow(RangeError);
    for (const lostDetents of [-1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => startDepth({ perDetent: mm(0.2), lostDetents }, 0)).toThrow(RangeError);
  });
});

const running: RunningPair = {
  pitch: { length: tpi(16) },
  starts: 1,
  cutter: { angle: degrees(60), tip: { kind: 'radius', radius: mm(0.1) } },
  caliper: { limitOfError: mm(0.03), step: mm(0.01) },
  detents: { female: 5, male: 4 },
  bore: mm(50),
  spigot: mm(51),
  play: mm(0.1),
  playWithin: mm(0.02 * Math.sqrt(3)),
  standard: { bore: mm(0.01), spigot: mm(0.01) },
  touchOffWithin: mm(0.02),
};

describe('calibration', () => {
  const calibrated = (found: Calibration | CalibrationRefusal) => ofKind('calibration', found);

  test('by a travel: the mean over the detents, doubt from gauge and agreement', () => {
    const once = calibrated(calibrateByTravel(20, [mm(4.02)], mm(0.01)));
    expect(once.perDetent).toBeCloseTo(0.201, 12);
    // one travel alone carries what one scatters by, 0.01 mm, beside the gauge
    expect(once.doubt.standard).toBeCloseTo(Math.hypot(0.01, 0.01) / 20, 12);
    const thrice = calibrated(calibrateByTravel(20, [mm(4.0), mm(4.02), mm(4.04)], mm(0.01)));
    expect(thrice.perDetent).toBeCloseTo(0.201, 12);
    expect(thrice.doubt.standard).toBeCloseTo(Math.hypot(0.01, 0.02 / Math.sqrt(3)) / 20, 9);
    expect(thrice.doubt.largest.name).toBe('scatter of 3 travels');
    // only the agreement of three has degrees of freedom, two of them (JCGM 100:2008, G.2b, from memory)
    const share = (0.02 / Math.sqrt(3)) ** 2 / (0.01 ** 2 + 0.02 ** 2 / 3);
    expect(thrice.doubt.degreesOfFreedom).toBeCloseTo(2 / share ** 2, 6);
  });

  test('by a pair cut by counting at a hidden feed gives that feed back', () => {
    const hidden = fc.record({
      detents: fc.integer({ min: 8, max: 40 }),
      more: fc.integer({ min: -2, max: 2 }),
      pitch: number(1.2, 3),
      share: number(0.5, 0.75),
      bore: number(30, 90),
      clearance: number(0.08, 0.25),
      disc: fc.option(number(12, 20), { nil: undefined }),
    });
    let compared = 0;
    fc.assert(
      fc.property(hidden, (c) => {
        const { angle } = running.cutter;
        const tip = { kind: 'flat', width: mm(c.pitch / 16) } as const;
        const cutter = { angle, tip, ...(c.disc === undefined ? {} : { diameter: mm(c.disc) }) };
        const setup = { ...running, pitch: { length: mm(c.pitch) }, cutter };
        const perDetent = (c.share * 0.866 * c.pitch) / c.detents;
        const detents = { female: c.detents, male: c.detents + c.more };
        const groove = (part: Part, surface: number) => {
          const depth = mm(perDetent * detents[part]);
          return { depth, tip, widening: wideningOf(setup, part, mm(surface), depth) };
        };
        const grooves = { female: groove('female', c.bore), male: groove('male', c.bore + c.pitch) };
        const pair = { pitch: mm(c.pitch), starts: 1, angle, ...grooves };
        const [limits, target] = [limitsOf(pair), targetSpigot(pair, mm(c.bore), mm(c.clearance))];
        if (limits.kind !== 'limits' || target.kind !== 'target') return;
        // Play is of the flanks; where a crest bottoms first the flanks have more room than the clearance says.
        const play = mm((c.clearance + limits.flank - limits.limit) * flankSlope(angle));
        const made = calibrated(
          calibrateByPair({ ...setup, bore: mm(c.bore), spigot: target.spigot, detents, play }),
        );
        compared += 1;
        // The male widening was made at a spigot one pitch over the bore, not at the one found: worth well under a micrometre.
        expect(Math.abs(made.perDetent - perDetent) * c.detents).toBeLessThan(0.001);
      }),
      { numRuns: 200 },
    );
    expect(compared).toBeGreaterThan(100);
  });

  test('its doubt equals the effect of each figure on the answer, found by nudging them', () => {
    const found = calibrated(calibrateByPair(running));
    const nudged = (change: Partial<RunningPair>) =>
      calibrated(calibrateByPair({ ...running, ...change })).perDetent - found.perDetent;
    const touchOff = 0.02 / Math.sqrt(3) / 9;
    const diameters = [nudged({ bore: mm(50.01) }), nudged({ spigot: mm(51.01) })];
    const effects = [...diameters, nudged({ play: mm(0.12) }), touchOff, touchOff];
    expect(found.doubt.standard).toBeCloseTo(Math.hypot(...effects), 9);
  });

  const byTravel =
    (detents: number, ...travels: readonly number[]) =>
    () =>
      calibrateByTravel(detents, travels.map(mm), mm(0.01));
  const byPair = (change: Partial<RunningPair>) => () => calibrateByPair({ ...running, ...change });

  test.each<[CalibrationRefusal['kind'], RegExp, () => Calibration | CalibrationRefusal]>([
    ['no-detents', /, not 0$/, byTravel(0, 1)],
    ['no-detents', /, not 2.5$/, byTravel(2.5, 1)],
    ['no-travel', /-0.050 mm/, byTravel(20, -1)],
    ['no-travel', /0.000 mm/, byTravel(20)],
    ['no-travel', /-0.050 mm/, byTravel(20, 4, -1)],
    ['no-travel', /0.000 mm/, byTravel(20, 4, 0)],
    ['no-travel', /a detent would be 0.000 mm/, byTravel(20, Infinity)],
    ['no-detents', /, not 0$/, byPair({ detents: { female: 5, male: 0 } })],
    ['no-detents', /, not 0$/, byPair({ detents: { female: 0, male: 4 } })],
    ['no-detents', /, not 4$/, byPair({ detents: { female: 4.5, male: 4 } })],
    ['no-travel', /Check the travel/, byPair({ spigot: mm(40) })],
    ['impossible-pair', /which isn't possible/, byPair({ spigot: mm(53) })],
  ])('refuses %s: %s', (kind, sentence, found) => {
    const refused = ofKind(kind, found());
    expect(calibrationRefusalText(refused)).toMatch(sentence);
  });
});
