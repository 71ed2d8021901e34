// Depth by the feed: counts from touch-off, lost motion, voids; and calibrating a feed both ways.
import { describe, expect, test } from 'vitest';
import {
  type CalibrationRefusal,
  calibrateByPair,
  calibrateByTravel,
  calibrationRefusalText,
  type RunningPair,
} from '../../src/core/thread/calibrate.ts';
import { fedDepth, moveTo, startDepth, type Tracker, voidDepth } from '../../src/core/thread/depth.ts';
import { fitOf } from '../../src/core/thread/fit.ts';
import type { Pair } from '../../src/core/thread/pair.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';
import { ofKind } from '../support/of-kind.ts';

const feed = { perDetent: mm(0.2), lostDetents: 2 };
const fed = (start: Tracker, ...counts: readonly number[]): Tracker =>
  counts.reduce((tracker, count) => moveTo(tracker, count), start);

describe('the tracker', () => {
  test('counts detents deeper from touch-off', () => {
    const depth = fedDepth(fed(startDepth(feed, 7), 8, 9, 12));
    expect(depth).toMatchObject({ kind: 'depth', proven: true });
    expect(ofKind('depth', depth).depth).toBeCloseTo(1, 12);
  });

  test('turned back, the first lost detents move nothing and the depth is not proven', () => {
    const back = fedDepth(fed(startDepth(feed, 0), 5, 4));
    expect(back).toMatchObject({ proven: false, why: 'lost-motion', detentsToProve: 1 });
    expect(ofKind('depth', back).depth).toBeCloseTo(1, 12);
    expect(back.kind === 'depth' && !back.proven && back.from).toBeCloseTo(0.8, 12);
  });

  test('turned back further, the slide follows behind by the lost detents, and the groove keeps its depth', () => {
    const back = fedDepth(fed(startDepth(feed, 0), 5, -3));
    expect(ofKind('depth', back).depth).toBeCloseTo(-0.2, 12);
    expect(ofKind('depth', back).deepest).toBeCloseTo(1, 12);
    expect(back).toMatchObject({ proven: false, detentsToProve: 2 });
  });

  test('fed in again, the lost detents move nothing first; then the depth is proven', () => {
    const back = fed(startDepth(feed, 0), 5, -3);
    const taking = fedDepth(fed(back, -2));
    expect(ofKind('depth', taking).depth).toBeCloseTo(-0.2, 12);
    expect(taking).toMatchObject({ proven: false, detentsToProve: 1 });
    const home = fedDepth(fed(back, -2, -1, 0, 5, 6));
    expect(home).toMatchObject({ proven: true });
    expect(ofKind('depth', home).depth).toBeCloseTo(1.2, 12);
  });

  test('the depth is proven only after all lost motion, also where it is more than one turn of the handle', () => {
    // Ten detents a turn, thirteen of them lost: -8 leaves the slide at 5, -9 would move it.
    const worn = { perDetent: mm(0.1), lostDetents: 13 };
    const back = fed(startDepth(worn, 0), 5, -8);
    expect(fedDepth(back)).toMatchObject({ proven: false, depth: 0.5, detentsToProve: 13 });
    expect(fedDepth(fed(back, 2))).toMatchObject({ proven: false, depth: 0.5, detentsToProve: 3 });
    expect(fedDepth(fed(back, 5))).toMatchObject({ proven: true, depth: 0.5 });
  });

  test('a feed without lost motion is proven both ways', () => {
    const tracker = fed(startDepth({ perDetent: mm(0.1), lostDetents: 0 }, 0), 5, 3);
    expect(fedDepth(tracker)).toMatchObject({ proven: true });
  });

  test('after a void nothing counts until a new touch-off', () => {
    const lost = voidDepth(fed(startDepth(feed, 0), 4), 'restart');
    expect(fedDepth(moveTo(lost, 9))).toEqual({ kind: 'void', why: 'restart', lastDepth: 0.8 });
    expect(moveTo(lost, 9)).toBe(lost);
    expect(voidDepth(lost, 'overrun')).toEqual(lost);
    expect(voidDepth(fed(startDepth(feed, 7), 12), 'restart')).toMatchObject({ lastDepth: 1 });
    expect(fedDepth(startDepth(feed, 9))).toMatchObject({ depth: 0, proven: true });
  });

  test('a wrong count or feed throws', () => {
    expect(() => startDepth(feed, 0.5)).toThrow(RangeError);
    expect(() => moveTo(startDepth(feed, 0), Number.NaN)).toThrow(RangeError);
    expect(() => startDepth({ perDetent: mm(0), lostDetents: 0 }, 0)).toThrow(RangeError);
    for (const lostDetents of [-1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => startDepth({ perDetent: mm(0.2), lostDetents }, 0)).toThrow(RangeError);
  });
});

const tip = { kind: 'radius', radius: mm(0.1) } as const;
const running: RunningPair = {
  pitch: { length: tpi(16) },
  starts: 1,
  cutter: { angle: degrees(60), tip },
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
  test('by a travel: the mean over the detents, doubt from gauge and agreement', () => {
    const once = calibrateByTravel(20, [mm(4.02)], mm(0.01));
    expect(once).toMatchObject({ kind: 'calibration' });
    expect(ofKind('calibration', once).perDetent).toBeCloseTo(0.201, 12);
    // one travel alone carries what one scatters by, 0.01 mm, beside the gauge
    expect(ofKind('calibration', once).doubt.standard).toBeCloseTo(Math.hypot(0.01, 0.01) / 20, 12);
    const thrice = ofKind('calibration', calibrateByTravel(20, [mm(4.0), mm(4.02), mm(4.04)], mm(0.01)));
    expect(thrice.perDetent).toBeCloseTo(0.201, 12);
    expect(thrice.doubt.standard).toBeCloseTo(Math.hypot(0.01, 0.02 / Math.sqrt(3)) / 20, 9);
    expect(thrice.doubt.largest.name).toBe('scatter of 3 travels');
    // only the agreement of three has degrees of freedom, two of them (JCGM 100:2008, G.2b, from memory)
    const share = (0.02 / Math.sqrt(3)) ** 2 / (0.01 ** 2 + 0.02 ** 2 / 3);
    expect(thrice.doubt.degreesOfFreedom).toBeCloseTo(2 / share ** 2, 6);
  });

  test('by a pair that runs: the depths it finds give that pair its play back', () => {
    const found = ofKind('calibration', calibrateByPair(running));
    const groove = (detents: number) => ({ tip, depth: mm(found.perDetent * detents) });
    const { pitch, starts, cutter, bore, spigot } = running;
    const { angle } = cutter;
    const pair: Pair = { pitch: pitch.length, starts, angle, female: groove(5), male: groove(4) };
    const fit = fitOf(pair, bore, spigot);
    expect(ofKind('fit', fit).play).toBeCloseTo(0.1, 12);
  });

  test('its doubt equals the effect of each figure on the answer, found by nudging them', () => {
    const found = ofKind('calibration', calibrateByPair(running));
    const nudged = (change: Partial<RunningPair>): number => {
      const other = calibrateByPair({ ...running, ...change });
      return other.kind === 'calibration' ? other.perDetent - found.perDetent : Number.NaN;
    };
    const touchOff = 0.02 / Math.sqrt(3) / 9;
    const effects = [
      nudged({ bore: mm(50.01) }),
      nudged({ spigot: mm(51.01) }),
      nudged({ play: mm(0.12) }),
      touchOff,
      touchOff,
    ];
    expect(found.doubt.standard).toBeCloseTo(Math.hypot(...effects), 9);
  });

  test.each<[CalibrationRefusal['kind'], RegExp, () => ReturnType<typeof calibrateByPair>]>([
    ['no-detents', /, not 0$/, () => calibrateByTravel(0, [mm(1)], mm(0.01))],
    ['no-travel', /-0.050 mm/, () => calibrateByTravel(20, [mm(-1)], mm(0.01))],
    ['no-travel', /0.000 mm/, () => calibrateByTravel(20, [], mm(0.01))],
    ['no-travel', /-0.050 mm/, () => calibrateByTravel(20, [mm(4), mm(-1)], mm(0.01))],
    ['no-travel', /0.000 mm/, () => calibrateByTravel(20, [mm(4), mm(0)], mm(0.01))],
    ['no-travel', /a detent would be 0.000 mm/, () => calibrateByTravel(20, [mm(Infinity)], mm(0.01))],
    ['no-detents', /, not 2.5$/, () => calibrateByTravel(2.5, [mm(1)], mm(0.01))],
    ['no-detents', /, not 0$/, () => calibrateByPair({ ...running, detents: { female: 5, male: 0 } })],
    ['no-detents', /, not 0$/, () => calibrateByPair({ ...running, detents: { female: 0, male: 4 } })],
    ['no-detents', /, not 4$/, () => calibrateByPair({ ...running, detents: { female: 4.5, male: 4 } })],
    ['no-travel', /Check the travel/, () => calibrateByPair({ ...running, spigot: mm(40) })],
    ['impossible-pair', /which isn't possible/, () => calibrateByPair({ ...running, spigot: mm(53) })],
  ])('refuses %s', (kind, sentence, calibrate) => {
    const found = calibrate();
    expect(found.kind).toBe(kind);
    if (found.kind !== 'calibration') expect(calibrationRefusalText(found)).toMatch(sentence);
  });
});
