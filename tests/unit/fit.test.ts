// A thread's form, the fit of a pair, targets, bands, and every refusal by name. The limits meet an overlap search in property/fit.
import { describe, expect, test } from 'vitest';
import {
  bandOf,
  defaultBounds,
  fitOf,
  fitWord,
  limitsOf,
  partsThatAdd,
  plainTarget,
  targetSpigot,
} from '../../src/core/thread/fit.ts';
import {
  basicHeight,
  crestLeft,
  grooveWidth,
  roundHeight,
  type Tip,
  tipLoss,
} from '../../src/core/thread/form.ts';
import {
  type FitRefusal,
  fitRefusalText,
  type Groove,
  PARTS,
  type Pair,
  type Part,
} from '../../src/core/thread/pair.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';
import { ofKind } from '../support/of-kind.ts';

const sixty = degrees(60);
const slope = Math.tan(Math.PI / 6);
const sharp: Tip = { kind: 'sharp' };
const flat: Tip = { kind: 'flat', width: mm(0.3) };
/** A nose of 0.4 mm at 60 degrees: its round is 0.2 mm high, and it ends 0.4 mm short of its point. */
const nose: Tip = { kind: 'radius', radius: mm(0.4) };

const groove = (depth: number, tip: Tip = sharp, widening = 0): Groove => ({
  depth: mm(depth),
  tip,
  widening: mm(widening),
});
const pairOf = (female: Groove, male = female): Pair => ({
  pitch: tpi(16),
  starts: 1,
  angle: sixty,
  female,
  male,
});
const pair = pairOf(groove(1));
const bore = mm(50);
const limits = (of: Pair) => ofKind('limits', limitsOf(of));

describe('what a tip leaves of the triangle', () => {
  test('it ends short of its point by half its flat over the slope, or by its nose', () => {
    expect([sharp, flat, nose].map((tip) => tipLoss(tip, sixty))).toEqual([
      ...[0, expect.closeTo(0.15 / slope, 12), expect.closeTo(0.4, 12)],
    ]);
    expect([sharp, flat, nose].map((tip) => roundHeight(tip, sixty))).toEqual([
      0,
      0,
      expect.closeTo(0.2, 12),
    ]);
  });

  test.each([
    [sharp, 0, 0],
    [flat, -0.1, 0],
    [nose, 0, 0],
    // the chord at a height h of a circle of radius r, from Pythagoras: 2 sqrt(r^2 - (r - h)^2)
    ...[0.05, 0.1, 0.19, 0.2].map((h): [Tip, number, number] => [
      nose,
      h,
      2 * Math.sqrt(0.4 ** 2 - (0.4 - h) ** 2),
    ]),
    [nose, 1, 2 * slope * 1.4],
    [flat, 1, 2 * slope + 0.3],
    [sharp, 1, 2 * slope],
  ])(
    '%o: at a height of %d mm its groove is %d mm wide, and the pitch less that is the crest',
    (tip, height, width) => {
      expect(grooveWidth(mm(height), tip, sixty)).toBeCloseTo(width, 12);
      expect(crestLeft(mm(2), mm(height), tip, sixty, mm(0.02))).toBeCloseTo(2 - width - 0.04, 12);
    },
  );

  test('the basic height is 5/8 of the triangle at 60 degrees, 2/3 at 55, and 60 speaks for the others', () => {
    const heights = [60, 55, 45].map((angle) => basicHeight(mm(1), degrees(angle)));
    expect(heights).toEqual([0.541266, 0.640327, 0.541266].map((height) => expect.closeTo(height, 6)));
  });
});

test('both parts 1 mm deep at 16 TPI, sharp: the flanks limit at 1.25 mm, the roots at 2 mm', () => {
  expect(limits(pair)).toMatchObject({
    limitedBy: 'flank',
    root: 2,
    corner: 2,
    limit: expect.closeTo(1.25037, 5),
  });
});

test('blunt cutters gone deep bottom in the roots before the flanks touch', () => {
  const found = limits(pairOf(groove(1.1, flat)));
  expect(found).toMatchObject({ limitedBy: 'root', limit: 2.2, flank: expect.closeTo(2.6896, 4) });
});

test('one more cut adds clearance on either part at the flanks, at the root on the shallower alone', () => {
  const cases: readonly (readonly [female: number, male: number, Tip, adding: readonly Part[]])[] = [
    [1, 1.1, sharp, ['female', 'male']],
    [0.9, 1, flat, ['female']],
    [1, 0.9, flat, ['male']],
    [0.9, 0.9, flat, []],
  ];
  for (const [female, male, tip, adding] of cases) {
    const of = pairOf(groove(female, tip), groove(male, tip));
    expect(partsThatAdd(of, limits(of))).toEqual(adding);
    // what deepening each groove by a nanometre really buys
    for (const part of PARTS) {
      const deeper = { ...of, [part]: { ...of[part], depth: mm(of[part].depth + 1e-6) } };
      const bought = (limits(deeper).limit - limits(of).limit) / 1e-6;
      expect(bought).toBeCloseTo(adding.includes(part) ? 2 : 0, 6);
    }
  }
});

test('a spigot no larger than the bore engages nothing: it is refused as a target, and the band ends there', () => {
  const shallow = pairOf(groove(0.8));
  const { limit } = limits(shallow);
  const refused = { kind: 'no-engagement', wanted: limit, allowance: 0, limit };
  expect(targetSpigot(shallow, bore, limit)).toEqual(refused);
  const bounds = { runningFrom: mm(0.08), looseFrom: limit };
  expect(bandOf(shallow, bore, bounds)).toMatchObject({ low: 50, endsAtBore: true });
  expect(bandOf(pairOf(groove(0.74)), bore)).toMatchObject({ kind: 'band', low: 50, endsAtBore: true });
});

test.each([
  [-0.01, 'seized'],
  [0, 'tight'],
  [0.079, 'tight'],
  [0.08, 'running'],
  [0.299, 'running'],
  [0.3, 'loose'],
] as const)('a clearance of %f is %s', (clearance, word) => {
  expect(fitWord(mm(clearance), defaultBounds)).toBe(word);
});

test('a plain lid: bore less clearance, more than the bore for a hold', () => {
  expect(plainTarget(bore, mm(0.1))).toEqual({ kind: 'target', spigot: 49.9, allowance: -0.1, limit: 0 });
  expect(plainTarget(bore, mm(-0.05))).toMatchObject({ kind: 'target', spigot: 50.05 });
  expect(plainTarget(bore, mm(60)).kind).toBe('not-positive');
});

describe('refusals are values with what was found', () => {
  test.each<[Partial<Pair>, FitRefusal['kind'], RegExp]>([
    [{ pitch: mm(0) }, 'not-positive', /pitch is 0/],
    [{ pitch: mm(Number.NaN) }, 'not-positive', /pitch is NaN/],
    [{ starts: 1.5 }, 'not-whole', /1.5 starts/],
    [{ starts: 0 }, 'not-whole', /0 starts/],
    [{ angle: degrees(180) }, 'angle-out-of-range', /180.0 degrees.*20 to 90/],
    [{ female: groove(-1) }, 'not-positive', /female depth is -1/],
    [
      { female: groove(2) },
      'crest-eaten',
      /crest in the bore \(crest width -0.722 mm\). Cut less than 1.375 mm/,
    ],
    [{ male: groove(2) }, 'crest-eaten', /crest on the spigot/],
    // what the tip and the widening leave of the triangle: (P / 2 - 0.15 - 0.02) / t
    [{ female: groove(1.3, flat, 0.02) }, 'crest-eaten', /Cut less than 1.080 mm/],
    [{ male: groove(0.1, nose) }, 'no-flank', /deeper than 0.200 mm/],
    [{ male: groove(1, { kind: 'flat', width: mm(-0.1) }) }, 'not-positive', /male tip is -0.1/],
    [{ male: groove(1, { kind: 'radius', radius: mm(-0.1) }) }, 'not-positive', /male tip is -0.1/],
    [{ male: groove(1, sharp, -0.1) }, 'not-positive', /male widening/],
  ])('%o: %s', (change, kind, sentence) => {
    const wrong = { ...pair, ...change };
    const found = limitsOf(wrong);
    expect(found.kind).toBe(kind);
    if (found.kind === 'limits') return;
    expect(fitRefusalText(found)).toMatch(sentence);
    expect(fitOf(wrong, bore, mm(51))).toEqual(found);
    expect(targetSpigot(wrong, bore, mm(0.1))).toEqual(found);
    expect(bandOf(wrong, bore)).toEqual(found);
  });

  test('angles are from 20 to 90 degrees', () => {
    const kindAt = (angle: number) => limitsOf({ ...pairOf(groove(0.3)), angle: degrees(angle) }).kind;
    expect([20, 90].map(kindAt)).toEqual(['limits', 'limits']);
    expect([19.9, 90.1].map(kindAt)).toEqual(['angle-out-of-range', 'angle-out-of-range']);
  });

  test('no bore, no spigot, no clearance', () => {
    expect(fitOf(pair, mm(-50), mm(51))).toEqual({ kind: 'not-positive', what: 'bore', found: -50 });
    expect(fitOf(pair, bore, mm(Number.NaN)).kind).toBe('not-positive');
    expect(targetSpigot(pair, mm(0), mm(0.1)).kind).toBe('not-positive');
    expect(targetSpigot(pair, bore, mm(Number.POSITIVE_INFINITY)).kind).toBe('not-positive');
  });
});
