// The fit: limits, what a spigot gives, targets, bands, and every refusal by name.
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
import type { Tip } from '../../src/core/thread/form.ts';
import { type FitRefusal, fitRefusalText, PARTS, type Pair, type Part } from '../../src/core/thread/pair.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';
import { ofKind } from '../support/of-kind.ts';

const groove = { depth: mm(1), tip: { kind: 'sharp' } } as const;
const pair: Pair = { pitch: tpi(16), starts: 1, angle: degrees(60), female: groove, male: groove };
const deep = (female: number, male = female): Pair => ({
  ...pair,
  female: { ...groove, depth: mm(female) },
  male: { ...groove, depth: mm(male) },
});
const bore = mm(50);

function limits(of: Pair) {
  return ofKind('limits', limitsOf(of));
}

test('both parts 1 mm deep at 16 TPI, sharp: the flanks limit at 1.25 mm, the roots at 2 mm', () => {
  expect(limits(pair)).toMatchObject({ limitedBy: 'flank', root: 2, corner: 2 });
  expect(limits(pair).limit).toBeCloseTo(1.25037, 5);
});

test('blunt cutters gone deep bottom in the roots before the flanks touch', () => {
  const blunt = { depth: mm(1.1), tip: { kind: 'flat', width: mm(0.3) } } as const;
  const found = limits({ ...pair, female: blunt, male: blunt });
  expect(found).toMatchObject({ limitedBy: 'root', limit: 2.2 });
  expect(found.flank).toBeCloseTo(2.6896, 4);
});

test('sharp cutters never bottom: their crest is eaten first', () => {
  expect(limits(deep(1.36)).limitedBy).toBe('flank');
});

test('unequal depths share the flank limit and the shallower one sets the root', () => {
  const found = limits(deep(1.2, 0.8));
  expect(found.flank).toBeCloseTo(limits(pair).flank, 12);
  expect(found.root).toBeCloseTo(1.6, 12);
});

test('a narrow square crest meets a large nose before the root does', () => {
  const nose = { depth: mm(1.28065), tip: { kind: 'radius', radius: mm(0.274658) } } as const;
  const found = limits({ ...pair, pitch: mm(2), angle: degrees(55), female: nose, male: nose });
  expect(found.flank).toBeCloseTo(2.5613, 4);
  expect(found.corner).toBeCloseTo(2.4486, 3);
});

test('a widened groove counts as deeper by w / t on each part', () => {
  const wide = { ...groove, widening: mm(0.01) };
  const more = limits({ ...pair, female: wide }).flank - limits(pair).flank;
  expect(more).toBeCloseTo((2 * 0.01) / Math.tan(Math.PI / 6), 12);
});

test('a widened groove meets the corners of a crest later, and a crest wider than its round not at all', () => {
  const nose = { depth: mm(1.28065), tip: { kind: 'radius', radius: mm(0.274658) } } as const;
  const of: Pair = { ...pair, pitch: mm(2), angle: degrees(55), female: nose, male: nose };
  const plain = limits(of);
  const wide = limits({ ...of, female: { ...nose, widening: mm(0.01) } });
  // half the crest, less the widening of the groove it enters, under the nose's circle (Pythagoras)
  const reach = (half: number) => 1.28065 - (0.274658 - Math.sqrt(0.274658 ** 2 - half ** 2));
  expect(plain.corner).toBeCloseTo(2 * reach(plain.crest.male / 2), 9);
  // the male's crest enters a wider groove; the female's own crest is narrower by twice the widening
  expect(wide.corner).toBeCloseTo(
    2 * Math.min(reach(plain.crest.male / 2 - 0.01), reach(plain.crest.female / 2 - 0.01)),
    9,
  );
  const shallow = { ...nose, depth: mm(0.9) };
  expect(limits({ ...of, female: shallow, male: shallow }).corner).toBeCloseTo(1.8, 12);
});

test('a spigot 1.1 mm over the bore runs with 0.15 mm', () => {
  const fit = fitOf(pair, bore, mm(51.1));
  expect(fit).toMatchObject({ kind: 'fit', word: 'running' });
  if (fit.kind !== 'fit') return;
  expect(fit.allowance).toBeCloseTo(1.1, 9);
  expect(fit.clearance).toBeCloseTo(0.15037, 5);
  expect(fit.play).toBeCloseTo(0.15037 * Math.tan(Math.PI / 6), 5);
  expect(fit.engagement).toBeCloseTo(1.1 / 1.71852, 4);
});

test('the target for 0.15 mm, and the band that runs', () => {
  const target = targetSpigot(pair, bore, mm(0.15));
  expect(ofKind('target', target).spigot).toBeCloseTo(51.10037, 5);
  const band = bandOf(pair, bore);
  expect(band).toMatchObject({ kind: 'band', endsAtBore: false });
  expect(ofKind('band', band).high).toBeCloseTo(51.17037, 5);
  expect(ofKind('band', band).low).toBeCloseTo(50.95037, 5);
});

test('a band whose loose end would no longer engage ends at the bore, and says so', () => {
  const band = bandOf(deep(0.74), bore);
  expect(band).toMatchObject({ kind: 'band', low: 50, endsAtBore: true });
});

test('a spigot no larger than the bore engages nothing: it is refused as a target, and the band ends there', () => {
  const { limit } = limits(deep(0.8));
  expect(targetSpigot(deep(0.8), bore, limit)).toEqual({
    kind: 'no-engagement',
    wanted: limit,
    allowance: 0,
    limit,
  });
  const bounds = { runningFrom: mm(0.08), looseFrom: limit };
  expect(bandOf(deep(0.8), bore, bounds)).toMatchObject({ low: 50, endsAtBore: true });
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
  const refused: readonly (readonly [Pair, FitRefusal['kind'], RegExp])[] = [
    [{ ...pair, pitch: mm(0) }, 'not-positive', /pitch is 0/],
    [{ ...pair, pitch: mm(Number.NaN) }, 'not-positive', /pitch is NaN/],
    [{ ...pair, starts: 1.5 }, 'not-whole', /1.5 starts/],
    [{ ...pair, angle: degrees(180) }, 'angle-out-of-range', /180.0 degrees.*20 to 90/],
    [deep(-1, 1), 'not-positive', /female depth is -1/],
    [deep(2, 1), 'crest-eaten', /crest in the bore \(crest width -0.722 mm\). Cut less than 1.375 mm/],
    [deep(1, 2), 'crest-eaten', /crest on the spigot/],
    [
      { ...pair, male: { depth: mm(0.1), tip: { kind: 'radius', radius: mm(0.4) } } },
      'no-flank',
      /deeper than 0.200 mm/,
    ],
    [
      { ...pair, male: { depth: mm(1), tip: { kind: 'flat', width: mm(-0.1) } } },
      'not-positive',
      /male tip is -0.1/,
    ],
    [{ ...pair, male: { ...groove, widening: mm(-0.1) } }, 'not-positive', /male widening/],
  ];
  test.each(refused)('%#: %o', (wrong, kind, sentence) => {
    const found = limitsOf(wrong);
    expect(found.kind).toBe(kind);
    if (found.kind === 'limits') return;
    expect(fitRefusalText(found)).toMatch(sentence);
    expect(fitOf(wrong, bore, mm(51))).toEqual(found);
    expect(targetSpigot(wrong, bore, mm(0.1))).toEqual(found);
    expect(bandOf(wrong, bore)).toEqual(found);
  });

  test('the most depth is what the tip and the widening leave of the triangle', () => {
    const blunt = { depth: mm(1.3), tip: { kind: 'flat', width: mm(0.3) }, widening: mm(0.02) } as const;
    const found = limitsOf({ ...pair, female: blunt });
    const slope = Math.tan(Math.PI / 6);
    expect(found).toMatchObject({
      kind: 'crest-eaten',
      part: 'female',
      mostDepth: expect.closeTo((1.5875 / 2 - 0.15 - 0.02) / slope, 9),
    });
  });

  test('bounds: no start, a nose of less than nothing, and angles from 20 to 90 degrees', () => {
    expect(limitsOf({ ...pair, starts: 0 })).toEqual({ kind: 'not-whole', what: 'starts', found: 0 });
    const nose = { kind: 'radius', radius: mm(-0.1) } as const;
    expect(limitsOf({ ...pair, male: { depth: mm(1), tip: nose } })).toEqual({
      kind: 'not-positive',
      what: 'male tip',
      found: -0.1,
    });
    const shallow = { depth: mm(0.3), tip: { kind: 'sharp' } } as const;
    const kindAt = (angle: number) =>
      limitsOf({ ...pair, angle: degrees(angle), female: shallow, male: shallow }).kind;
    expect([19.9, 20, 90, 90.1].map(kindAt)).toEqual([
      'angle-out-of-range',
      'limits',
      'limits',
      'angle-out-of-range',
    ]);
  });

  test('no bore, no spigot, no clearance', () => {
    expect(fitOf(pair, mm(-50), mm(51))).toEqual({ kind: 'not-positive', what: 'bore', found: -50 });
    expect(fitOf(pair, bore, mm(Number.NaN)).kind).toBe('not-positive');
    expect(targetSpigot(pair, mm(0), mm(0.1)).kind).toBe('not-positive');
    expect(targetSpigot(pair, bore, mm(Number.POSITIVE_INFINITY)).kind).toBe('not-positive');
  });

  test('threads too shallow to reach each other', () => {
    const found = targetSpigot(deep(0.5), bore, mm(0.15));
    expect(found.kind).toBe('no-engagement');
    expect(found.kind === 'no-engagement' && fitRefusalText(found)).toMatch(
      /would be 0.900 mm smaller than the bore/,
    );
  });
});

test('one more cut adds clearance on either part at the flanks, at the root on the shallower alone', () => {
  const blunt = { kind: 'flat', width: mm(0.3) } as const;
  const cut = (female: number, male: number, tip: Tip): Pair => ({
    ...pair,
    female: { depth: mm(female), tip },
    male: { depth: mm(male), tip },
  });
  const cases: readonly (readonly [female: number, male: number, Tip, adding: readonly Part[]])[] = [
    [1, 1.1, groove.tip, ['female', 'male']],
    [0.9, 1, blunt, ['female']],
    [1, 0.9, blunt, ['male']],
    [0.9, 0.9, blunt, []],
  ];
  for (const [female, male, tip, adding] of cases) {
    const { limit } = limits(cut(female, male, tip));
    expect(partsThatAdd(cut(female, male, tip), limits(cut(female, male, tip)))).toEqual(adding);
    // what deepening each groove by a nanometre really buys
    const bought = [cut(female + 1e-6, male, tip), cut(female, male + 1e-6, tip)];
    for (const [at, deeper] of bought.entries())
      expect((limits(deeper).limit - limit) / 1e-6).toBeCloseTo(
        adding.some((part) => part === PARTS[at]) ? 2 : 0,
        6,
      );
  }
});
