// What peaks say together, with peaks written by hand: which agree, what speaks against them, the level and its uncertainty.
import { describe, expect, test } from 'vitest';
import { trendOf } from '../../src/core/measure/against.ts';
import { agreementOf } from '../../src/core/measure/agreement.ts';
import type { Side } from '../../src/core/measure/capture-settings.ts';
import { noiseScale, type Peak, standardOfPeak } from '../../src/core/measure/peak.ts';
import { millis, mm } from '../../src/core/units.ts';
import { untilted } from '../support/readings.ts';

/** A peak of this table: how far it is off 50 mm, toward the wood, and what else is not as usual. */
type Written = number | (Partial<Peak> & { readonly off: number; readonly reach?: number });

/** A rock of a 50 mm bore, placed within 0.005 mm by readings as noisy as assumed, 0.4 mm over valleys that differ. */
function peak(written: Written, place = 0, sign = 1): Peak {
  const { off, reach, ...more } = typeof written === 'number' ? { off: written, reach: written } : written;
  const value = 50 + sign * off;
  const { height = 0.4 } = more;
  const valley = sign * value - height - 0.1 * (place % 3);
  return {
    at: millis(1000 * place),
    value: mm(value),
    reached: mm(50 + sign * (reach ?? off)),
    alone: 0,
    placing: 0.005 ** 2,
    misfit: 0,
    freedom: 0,
    shape: 0,
    sharedRounding: 0,
    height,
    sides: [valley, valley],
    isCurved: true,
    halfSpan: 200,
    from: [],
    rejected: [],
    ...more,
  };
}

const agreed = (written: readonly Written[], side: Side = 'bore', step = 0.01) =>
  agreementOf(
    written.map((one, i) => peak(one, i, side === 'bore' ? 1 : -1)),
    untilted(side),
    step,
  );
const many = (count: number, one: Written) => new Array<Written>(count).fill(one);

/** What the verdict says of the peaks: counts and kinds. */
interface Told {
  readonly agreeing?: number;
  readonly nearby?: number;
  readonly beyond?: number;
  readonly needed?: number;
  readonly steady?: boolean;
  readonly against?: 'drifting' | 'jumped' | 'no-curve' | 'held-off' | null;
}
type Row = readonly [why: string, peaks: readonly Written[], told: Told];

function expectTold(side: Side, peaks: readonly Written[], told: Told) {
  const found = agreed(peaks, side);
  const { agreeing, nearby, beyond, needed } = found ?? {};
  const all = {
    agreeing: agreeing?.length,
    nearby: nearby?.length,
    beyond: beyond?.length,
    needed,
    steady: Boolean(found?.steady),
    against: found?.against?.kind ?? null,
  };
  expect(all).toMatchObject(told);
}

const low = [-0.1, -0.2, -0.3, -0.4, -0.5, -0.6, -0.7];
/** A low peak of which a reading is so far beyond the others. */
const reaching = (reach: number) => ({ off: -0.2, reach });
/** Six peaks placed so well, and low ones among them of which a reading is so far beyond. */
function firm(placing: number, ...reached: readonly number[]): readonly Written[] {
  const [first = 0, ...others] = many(6, { off: 0, placing: placing ** 2 });
  return [first, ...reached.map(reaching), ...others];
}
/** Rocks of one height whose valleys differ by so much. */
const swung = (count: number, height: number, vary: number) =>
  Array.from({ length: count }, (_, i) => {
    const valley = 50 - height - vary * (i % 3);
    return { off: 0, height, sides: [valley, valley] } as const;
  });

const ROWS: readonly Row[] = [
  ['those within 0.03 mm', [0, -0.03, -0.031, -0.01], { agreeing: 3, nearby: 4, steady: true }],
  ['two are too few', [0, 0], { agreeing: 2, steady: false }],
  ['the farthest three of eight', [0.1, 0, 0.1, 0, 0.1, 0, 0, 0], { agreeing: 3 }],
  ['but not three of eleven', [0.1, 0, 0.1, 0, 0.1, ...many(6, 0)], { agreeing: 8 }],
  ['one placed within 0.045 mm votes', [0, { off: 0, shape: 0.044 }, 0, 0], { agreeing: 4 }],
  ['one placed worse does not', [0, { off: 0, shape: 0.046 }, 0, 0], { agreeing: 3 }],
  ['3 % of the size away is nearby', [0, 0, 0, -1.49], { nearby: 4 }],
  ['farther is something else', [0, 0, 0, -1.51], { nearby: 3 }],

  ['a low first peak asks for five', [-0.1, 0, 0, 0, 0], { needed: 5, steady: false, against: null }],
  ['and five are enough', [-0.1, 0, 0, 0, 0, 0], { agreeing: 5, nearby: 6, steady: true }],
  ['a high first peak does not', [0.1, 0, 0, 0, 0, 0], { needed: 3 }],
  ['low is 0.045 mm off the level', [-0.044, 0, 0, 0], { needed: 3 }],
  ['and more', [-0.046, 0, 0, 0], { needed: 5 }],
  ['up to 0.35 mm', [-0.34, 0, 0, 0], { needed: 5 }],
  ['and no more', [-0.36, 0, 0, 0], { needed: 3 }],
  ['it is the very first', [0, -0.1, 0, 0], { needed: 3 }],
  ['not the last', [0, 0, 0, -0.1], { needed: 3 }],
  ['and the only one', [-0.1, 0, -0.2, 0, 0], { needed: 3 }],
  ['and well placed', [{ off: -0.1, shape: 0.034 }, 0, 0, 0], { needed: 3 }],

  ['one peak beyond two is too many', [0, 0.05, 0], { steady: false }],
  ['three firm ones carry it', [0, 0, 0.05, 0, 0], { beyond: 1, steady: true }],
  ['but not two', [0, 0, 0.05, 0, 0.051, 0], { beyond: 2, steady: false }],
  ['beyond is two uncertainties', [0, 0, { off: 0.05, reach: 0, shape: 0.024 }, 0, 0], { beyond: 1 }],
  ['not less', [0, 0, { off: 0.05, reach: 0, shape: 0.026 }, 0, 0], { beyond: 0 }],
  ['or a reading 0.015 mm beyond', [0, 0, reaching(0.016), 0], { beyond: 1 }],
  ['not less', [0, 0, reaching(0.014), 0], { beyond: 0 }],
  ['firm is a third of the excess', firm(0.006, 0.2), { steady: true }],
  ['not more', firm(0.006, 0.016), { steady: false }],
  ['of the least one', firm(0.006, 0.2, 0.016), { steady: false }],
  ['which is enough for two', firm(0.005, 0.2, 0.016), { steady: true }],
  ['and within 0.021 mm', firm(0.02, 0.2), { steady: true }],
  ['not more', firm(0.022, 0.2), { steady: false }],
  ['three of ten are enough', [0, 0, 0, ...low], { agreeing: 3, steady: true }],
  ['three of eleven are not', [0, 0, 0, ...low, -0.8], { steady: false }],

  ['a rise of 0.03 mm', [0, 0.008, 0.016, 0.024, 0.032], { against: 'drifting' }],
  ['a fall', [0, -0.008, -0.016, -0.024, -0.032], { against: 'drifting' }],
  ['less is none', [0, 0.007, 0.014, 0.021, 0.028], { against: null }],
  ['over four peaks', [0, 0.01, 0.02, 0.031], { against: 'drifting' }],
  ['not three', [0, 0.016, 0.032], { against: null }],
  ['four pairs in five one way', [0, 0.024, 0.008, 0.016, -0.032], { against: null }],
  ['bad seats hide none', [0, 0.012, -0.03, 0.024, 0.036, -0.02], { against: 'drifting' }],
  ['shallower ones are no seats', [0, 0.012, -0.017, 0.024, 0.036, 0.007], { against: null }],
  ['a peak badly placed', [{ off: 0, shape: 0.016 }, 0.008, 0.016, 0.024, 0.032], { against: null }],
  ['or far away says nothing', [-0.11, 0.008, 0.016, 0.024, 0.032], { against: null }],

  ['two lower before the others', [-0.1, -0.14, 0, 0, 0], { against: 'jumped' }],
  ['two alike and lower after them', [0, 0, 0, -0.1, -0.09], { against: 'jumped' }],
  ['two unlike after them', [0, 0, 0, -0.1, -0.14], { against: null }],
  ['one lower', [-0.1, 0, 0, 0], { against: null }],
  ['two of four', [-0.1, -0.1, -0.035, -0.035, 0, 0, 0, 0], { against: null }],
  ['two that are not neighbours', [-0.1, 0, 0, -0.1, 0], { against: null }],
  ['less than 0.045 mm lower', [-0.044, -0.044, 0, 0, 0], { against: null }],
  ['more', [-0.046, -0.046, 0, 0, 0], { against: 'jumped' }],
  ['one higher before', [0.1, 0, 0, 0, 0], { against: 'jumped' }],
  ['one higher after', [0, 0, 0, 0, 0.1], { against: 'jumped' }],
  ['one higher by one reading', [{ off: 0.1, alone: 0.11 }, 0, 0, 0, 0], { against: null }],
  ['one higher, badly placed', [{ off: 0.1, shape: 0.034 }, 0, 0, 0, 0], { against: null }],

  ['no flank on half of them', [0, 0, ...many(2, { off: 0, isCurved: false })], { against: null }],
  ['on more', [0, ...many(3, { off: 0, isCurved: false })], { against: 'no-curve' }],
];

describe.each(['bore', 'outside'] as const)('peaks of a %s', (side) => {
  test.each(ROWS)('%s: %o', (_, peaks, told) => {
    expectTold(side, peaks, told);
  });
});

test.each<Row>([
  ['small rocks leave it to chance', swung(3, 0.08, 0.01), { against: 'held-off' }],
  ['less where more agree than must', swung(4, 0.08, 0.01), { against: null }],
  ['less where they are taller', swung(3, 0.2, 0.005), { against: null }],
  ['valleys as alike as the peaks', swung(6, 0.1, 0), { against: 'held-off' }],
  ['valleys that differ', swung(6, 0.1, 0.05), { against: null }],
  ['tall rocks', swung(6, 0.6, 0), { against: null }],
  ['none of 0.05 mm', swung(6, 0.04, 0.05), { against: 'held-off' }],
  ['all of 0.05 mm', swung(6, 0.05, 0.05), { against: null }],
  ['half of them', [0.04, 0.06, 0.04, 0.06].map((height) => ({ off: 0, height })), { against: null }],
  ['three low ones', swung(3, 0.1, 0.004), { against: 'held-off' }],
])('jaws that may be held off the diameter, %s: %o', (_, peaks, told) => {
  expectTold('bore', peaks, told);
});

test('a coarse caliper asks for two of its steps only, and no peaks are no agreement', () => {
  const agreeing = (step: number) => agreed([0, -0.2, -0.1, -0.05], 'bore', step)?.agreeing.length;
  expect([agreeing(0.1), agreeing(0.09)]).toEqual([4, 3]);
  expect(agreed([])).toBeNull();
});

test.each(['bore', 'outside'] as const)(
  'evidence against peaks of a %s says how much, and of how many',
  (side) => {
    const sign = side === 'bore' ? 1 : -1;
    const about = (change: number) => expect.closeTo(sign * change, 9);
    const against = (offs: readonly Written[]) => agreed(offs, side)?.against;
    expect(agreed([0, -0.03, -0.01], side)?.spread).toBeCloseTo(0.03, 9);
    expect(against([0, 0.01, 0.02, 0.03, 0.04])).toEqual({ kind: 'drifting', change: about(0.04), peaks: 5 });
    expect(against([0, 0.012, -0.03, 0.024, 0.036, -0.02])).toMatchObject({ peaks: 4 });
    expect(against([-0.1, -0.09, 0, 0, 0])).toEqual({ kind: 'jumped', change: about(0.095) });
    expect(against([0, 0, 0, -0.1, -0.09])).toEqual({ kind: 'jumped', change: about(-0.095) });
    expect(agreed(swung(6, 0.1, 0))?.against).toEqual({ kind: 'held-off', height: 0.1 });
  },
);

describe('the level and its uncertainty', () => {
  const steadyOf = (written: readonly Written[], side: Side = 'bore') => {
    const steady = agreed(written, side)?.steady;
    if (!steady) throw new Error('not steady');
    return steady;
  };
  const doubtOf = (written: readonly Written[], side?: Side) => steadyOf(written, side).standardUncertainty;
  const four = many(4, 0);

  test('peaks that agree to the last bit: their own doubt over sqrt(n), widened for few degrees of freedom', () => {
    const { diameter, standardUncertainty, degreesOfFreedom } = steadyOf(four);
    expect(diameter).toBeCloseTo(50, 9);
    // 1.2 + 4 - 1 degrees of freedom; the scatter of 0 with the 1.2 assumed; a normal share that is 1 at the level
    expect(degreesOfFreedom).toBeCloseTo(4.2, 9);
    const factor = 1.2 / 4.2;
    expect(standardUncertainty).toBeCloseTo(0.005 * Math.sqrt((factor / 4) * (4.2 / 2.2)), 9);
  });

  test('a low peak hardly pulls it, a high one and a better placed one do', () => {
    const down = 50 - steadyOf([...four, -0.025]).diameter;
    expect(down).toBeLessThan(0.001);
    expect(down).toBeGreaterThanOrEqual(0);
    expect(steadyOf([...four, 0.02]).diameter - 50).toBeCloseTo(0.004, 3);
    expect(steadyOf([{ off: 0.01, placing: 0.001 ** 2 }, 0, 0, 0]).diameter).toBeGreaterThan(50.007);
  });

  test('an outside is the mirror image', () => {
    const [bore, outside] = [
      steadyOf([0, -0.004, 0.003, -0.02]),
      steadyOf([0, -0.004, 0.003, -0.02], 'outside'),
    ];
    expect(outside.diameter - 50).toBeCloseTo(50 - bore.diameter, 9);
    expect(outside.standardUncertainty).toBeCloseTo(bore.standardUncertainty, 9);
  });

  test('one that may be low or may be noise leaves more doubt than either', () => {
    const doubt = (off: number) => doubtOf([...many(5, 0), off]);
    expect(doubt(-0.009)).toBeGreaterThan(Math.max(doubt(0), doubt(-0.029)));
  });

  test('0.4 of the rounding that all share is left, and scatter widens the rest', () => {
    const plain = doubtOf(four);
    expect(doubtOf(many(4, { off: 0, sharedRounding: 0.006 }))).toBeCloseTo(Math.hypot(plain, 0.0024), 9);
    expect(doubtOf([0.008, -0.008, 0.008, -0.008])).toBeGreaterThan(2 * plain);
  });

  test('a rise that four peaks keep to is a drift of unknown start: its change over sqrt(3) more', () => {
    const mixed = doubtOf([0, 0.009, 0.003, 0.006]);
    expect(doubtOf([0, 0.003, 0.006, 0.009])).toBeCloseTo(Math.hypot(mixed, 0.009 / Math.sqrt(3)), 5);
    expect(doubtOf([0, 0.004, 0.008])).toBeLessThan(0.009);
  });

  test.each(['bore', 'outside'] as const)(
    'peaks of a %s that end at one reading may be cut off there, where their shapes go on and rounding does not hide it',
    (side) => {
      const cut = (offs: readonly number[], ...reached: readonly number[]) =>
        doubtOf(
          offs.map((off, i) => ({ off, reach: reached[i % reached.length] ?? 0 })),
          side,
        );
      const offs = [0, 0.004, 0, 0.004];
      const plain = cut(offs, -0.01, -0.03);
      expect(cut(offs, -0.01)).toBeCloseTo(Math.hypot(plain, 0.012), 9);
      expect(cut(offs, -0.01, -0.02, -0.01, -0.01)).toBeCloseTo(Math.hypot(plain, 0.0145), 9);
      for (const reached of [-0.002, 0.01]) expect(cut(offs, reached)).toBeCloseTo(plain, 9);
      const same = [0, 0.0015, 0, 0.0015];
      expect(cut(same, -0.01)).toBeCloseTo(cut(same, -0.01, -0.03), 9);
    },
  );
});

test('the noise of the readings is the variance they show over the assumed one, with two degrees of freedom assumed', () => {
  const noisy = (misfit: number) => peak({ off: 0, misfit, freedom: 2 });
  expect([noiseScale([]), noiseScale([noisy(6)]), noiseScale([noisy(6), noisy(4)])]).toEqual([1, 2, 2]);
  expect(standardOfPeak(peak({ off: 0, placing: 9, shape: 8 }), 4)).toBe(10);
});

test.each([
  [[1, 2, 3, 4], 1, 3],
  [[4, 3, 2, 1], 1, -3],
  [[0, 2, 1], 0.66, 1],
  [[0, 2, 1], 0.67, 0],
  [[3, 1, 2, 0.5], 0.8, -2],
  [[1, 1, 1], 0.5, 0],
  [[5], 0, 0],
])(
  'the trend of %o, where a share of %d goes one way, is the median slope of all pairs: %d',
  (values, share, trend) => {
    expect(trendOf(values, share)).toBeCloseTo(trend, 9);
  },
);
