// What peaks say together, with peaks written by hand: which agree, what speaks against them, the level and its uncertainty.
import { describe, expect, test } from 'vitest';
import { trendOf } from '../../src/core/measure/against.ts';
import { agreementOf } from '../../src/core/measure/agreement.ts';
import { defaultSettings, type Side } from '../../src/core/measure/capture-settings.ts';
import { noiseScale, type Peak, standardOfPeak } from '../../src/core/measure/peak.ts';
import { degrees, millis, mm } from '../../src/core/units.ts';

const untilted = (side: Side) => ({ ...defaultSettings(side), tiltHalfRange: degrees(0) });

/** A rock of a 50 mm bore, placed within 0.005 mm by readings as noisy as assumed, 0.4 mm over valleys that differ. */
function peak(off: number, of: Partial<Peak> = {}, place = 0, side: Side = 'bore'): Peak {
  const sign = side === 'bore' ? 1 : -1;
  const value = 50 + sign * off;
  const valley = sign * value - 0.4 - 0.1 * (place % 3);
  return {
    at: millis(1000 * place),
    value: mm(value),
    reached: mm(value),
    alone: 0,
    placing: 0.005 ** 2,
    misfit: 0,
    freedom: 0,
    shape: 0,
    sharedRounding: 0,
    height: 0.4,
    sides: [valley, valley],
    isCurved: true,
    halfSpan: 200,
    from: [],
    rejected: [],
    ...of,
  };
}

const peaksAt = (offs: readonly number[], side: Side = 'bore') =>
  offs.map((off, i) => peak(off, {}, i, side));
const agreed = (offs: readonly number[], side: Side = 'bore') =>
  agreementOf(peaksAt(offs, side), untilted(side), 0.01);
const with2 = (offs: readonly number[], place: number, of: Partial<Peak>) =>
  agreementOf(
    offs.map((off, i) => peak(off, i === place ? of : {}, i)),
    untilted('bore'),
    0.01,
  );

describe('which peaks agree', () => {
  test.each(['bore', 'outside'] as const)('those within 0.03 mm below the farthest of a %s', (side) => {
    const found = agreed([0, -0.03, -0.031, -0.01], side);
    expect(found?.agreeing).toHaveLength(3);
    expect(found?.nearby).toHaveLength(4);
    expect(found?.spread).toBeCloseTo(0.03, 9);
    expect(found?.steady).toMatchObject({ state: 'steady', peaks: 4, agreeing: 3 });
  });

  test('two are too few, and none is none', () => {
    expect(agreed([0, 0])?.steady).toBeNull();
    expect(agreed([0, 0])?.agreeing).toHaveLength(2);
    expect(agreed([])).toBeNull();
  });

  test('a coarse caliper asks for two of its steps only', () => {
    const offs = [0, -0.2, -0.1, -0.05].map((off, i) => peak(off, {}, i));
    expect(agreementOf(offs, untilted('bore'), 0.1)?.agreeing).toHaveLength(4);
    expect(agreementOf(offs, untilted('bore'), 0.09)?.agreeing).toHaveLength(3);
  });

  test('the farthest level with three wins over a lower one with more, but only with three in ten of all', () => {
    expect(agreed([0.1, 0, 0.1, 0, 0.1, 0, 0, 0])?.agreeing[0]?.value).toBeCloseTo(50.1, 9);
    expect(agreed([0.1, 0, 0.1, 0, 0.1, 0, 0, 0, 0, 0, 0])?.agreeing[0]?.value).toBeCloseTo(50, 9);
  });

  test('a peak placed no better than 0.045 mm does not vote', () => {
    expect(with2([0, 0, 0, 0], 1, { shape: 0.044 })?.agreeing).toHaveLength(4);
    expect(with2([0, 0, 0, 0], 1, { shape: 0.046 })?.agreeing).toHaveLength(3);
  });

  test('peaks farther than 3 % of the size away are of something else', () => {
    expect(agreed([0, 0, 0, -1.49])?.nearby).toHaveLength(4);
    expect(agreed([0, 0, 0, -1.51])?.nearby).toHaveLength(3);
  });
});

describe('a first peak that is low', () => {
  test.each(['bore', 'outside'] as const)('of a %s asks for five that agree', (side) => {
    expect(agreed([-0.1, 0, 0, 0, 0], side)).toMatchObject({ needed: 5, steady: null, against: null });
    expect(agreed([-0.1, 0, 0, 0, 0, 0], side)?.steady).toMatchObject({ peaks: 6, agreeing: 5 });
    expect(agreed([0.1, 0, 0, 0, 0, 0], side)?.needed).toBe(3);
  });

  test('is one off their level, by less than 0.35 mm, and the very first', () => {
    const needed = (offs: readonly number[]) => agreed(offs)?.needed;
    expect(needed([-0.044, 0, 0, 0])).toBe(3);
    expect(needed([-0.046, 0, 0, 0])).toBe(5);
    expect(needed([-0.34, 0, 0, 0])).toBe(5);
    expect(needed([-0.36, 0, 0, 0])).toBe(3);
    expect(needed([0, -0.1, 0, 0])).toBe(3);
    expect(needed([0, 0, 0, -0.1])).toBe(3);
    expect(needed([-0.1, 0, -0.2, 0, 0])).toBe(3);
    expect(with2([-0.1, 0, 0, 0], 0, { shape: 0.034 })?.needed).toBe(3);
  });
});

describe('peaks that end at the same reading', () => {
  const offs = [0, 0.004, 0, 0.004];
  const doubt = (values: readonly number[], reached: readonly number[], side: Side = 'bore') => {
    const sign = side === 'bore' ? 1 : -1;
    const peaks = values.map((off, i) => peak(off, { reached: mm(50 + sign * (reached[i] ?? 0)) }, i, side));
    return agreementOf(peaks, untilted(side), 0.01)?.steady?.standardUncertainty ?? 0;
  };

  test.each(['bore', 'outside'] as const)(
    'though the shapes of a %s go on may be cut off there: what is beyond is in doubt',
    (side) => {
      const plain = doubt(offs, [-0.01, -0.03, -0.01, -0.03], side);
      expect(doubt(offs, [-0.01, -0.01, -0.01, -0.01], side)).toBeCloseTo(Math.hypot(plain, 0.012), 9);
      expect(doubt(offs, [-0.01, -0.02, -0.01, -0.01], side)).toBeCloseTo(Math.hypot(plain, 0.0145), 9);
    },
  );

  test('are not, where the shapes end as much alike, or rounding hides what is beyond', () => {
    const plain = doubt(offs, [-0.01, -0.03, -0.01, -0.03]);
    expect(doubt(offs, [-0.002, -0.002, -0.002, -0.002])).toBeCloseTo(plain, 9);
    expect(doubt(offs, [0.01, 0.01, 0.01, 0.01])).toBeCloseTo(plain, 9);
    const same = [0, 0.0015, 0, 0.0015];
    expect(doubt(same, [-0.01, -0.01, -0.01, -0.01])).toBeCloseTo(
      doubt(same, [-0.01, -0.03, -0.01, -0.03]),
      9,
    );
  });
});

describe('a peak beyond the others', () => {
  const five = [0, 0, 0.05, 0, 0];
  test('counts against four, and three firm ones carry it', () => {
    expect(agreed([0, 0.05, 0])?.steady).toBeNull();
    expect(agreed(five)?.beyond).toHaveLength(1);
    expect(agreed(five)?.steady).not.toBeNull();
    expect(agreed([0, 0, 0.05, 0, 0.051, 0])?.beyond).toHaveLength(2);
    expect(agreed([0, 0, 0.05, 0, 0.051, 0])?.steady).toBeNull();
  });

  test('is none within two of its own standard uncertainties', () => {
    expect(with2(five, 2, { shape: 0.026, reached: mm(50) })?.beyond).toHaveLength(0);
    expect(with2(five, 2, { shape: 0.024, reached: mm(50) })?.beyond).toHaveLength(1);
  });

  test('is also one with a reading 0.015 mm beyond', () => {
    expect(with2([0, 0, -0.2, 0], 2, { reached: mm(50.016) })?.beyond).toHaveLength(1);
    expect(with2([0, 0, -0.2, 0], 2, { reached: mm(50.014) })?.beyond).toHaveLength(0);
  });
});

describe('how firm the others must be to carry one beyond', () => {
  const judged = (placing: number, reached: readonly number[]) =>
    agreementOf(
      [
        ...reached.map((off, i) => peak(-0.2, { reached: mm(50 + off) }, i + 1)),
        ...[0, 0, 0, 0, 0, 0].map((off, i) => peak(off, { placing: placing ** 2 }, i)),
      ].sort((a, b) => a.at - b.at),
      untilted('bore'),
      0.01,
    )?.steady;

  test('placed three times better than the least excess', () => {
    expect(judged(0.006, [0.2])).not.toBeNull();
    expect(judged(0.006, [0.016])).toBeNull();
    expect(judged(0.006, [0.2, 0.016])).toBeNull();
    expect(judged(0.005, [0.2, 0.016])).not.toBeNull();
  });

  test('and within 0.021 mm', () => {
    expect(judged(0.02, [0.2])).not.toBeNull();
    expect(judged(0.022, [0.2])).toBeNull();
  });

  test('three of eleven are too few, also where no more agree', () => {
    const spread = [-0.1, -0.2, -0.3, -0.4, -0.5, -0.6, -0.7];
    expect(agreed([0, 0, 0, ...spread])?.agreeing).toHaveLength(3);
    expect(agreed([0, 0, 0, ...spread])?.steady).not.toBeNull();
    expect(agreed([0, 0, 0, ...spread, -0.8])?.steady).toBeNull();
  });
});

describe('the level and its uncertainty', () => {
  test('peaks that agree to the last bit: their own doubt over sqrt(n), widened for few degrees of freedom', () => {
    const { diameter = 0, standardUncertainty = 0, degreesOfFreedom } = agreed([0, 0, 0, 0])?.steady ?? {};
    expect(diameter).toBeCloseTo(50, 9);
    // 1.2 + 4 - 1 degrees of freedom; the scatter of 0 with the 1.2 assumed; a normal share that is 1 at the level
    expect(degreesOfFreedom).toBeCloseTo(4.2, 9);
    const factor = 1.2 / 4.2;
    expect(standardUncertainty).toBeCloseTo(0.005 * Math.sqrt((factor / 4) * (4.2 / 2.2)), 9);
  });

  test('a low peak hardly pulls it, and a high one does', () => {
    const low = agreed([0, 0, 0, 0, -0.025])?.steady?.diameter ?? 0;
    const high = agreed([0, 0, 0, 0, 0.02])?.steady?.diameter ?? 0;
    expect(50 - low).toBeLessThan(0.001);
    expect(50 - low).toBeGreaterThanOrEqual(0);
    expect(high - 50).toBeCloseTo(0.004, 3);
  });

  test('an outside is the mirror image', () => {
    const offs = [0, -0.004, 0.003, -0.02];
    const [bore, outside] = [agreed(offs)?.steady, agreed(offs, 'outside')?.steady];
    expect((outside?.diameter ?? 0) - 50).toBeCloseTo(50 - (bore?.diameter ?? 0), 9);
    expect(outside?.standardUncertainty).toBeCloseTo(bore?.standardUncertainty ?? 0, 9);
  });

  test('one that may be low or may be noise leaves more doubt than either', () => {
    const doubt = (low: number) => agreed([0, 0, 0, 0, 0, low])?.steady?.standardUncertainty ?? 0;
    expect(doubt(-0.009)).toBeGreaterThan(doubt(0));
    expect(doubt(-0.009)).toBeGreaterThan(doubt(-0.029));
  });

  test('better placed peaks weigh more', () => {
    const found = with2([0.01, 0, 0, 0], 0, { placing: 0.001 ** 2 })?.steady;
    expect(found?.diameter).toBeGreaterThan(50.007);
  });

  test('0.4 of the rounding that all share is left, and scatter widens the rest', () => {
    const plain = agreed([0, 0, 0, 0])?.steady?.standardUncertainty ?? 0;
    const rounded = agreementOf(
      [0, 0, 0, 0].map((off, i) => peak(off, { sharedRounding: 0.006 }, i)),
      untilted('bore'),
      0.01,
    )?.steady?.standardUncertainty;
    expect(rounded).toBeCloseTo(Math.hypot(plain, 0.0024), 9);
    const scattered = agreed([0.008, -0.008, 0.008, -0.008])?.steady?.standardUncertainty;
    expect(scattered).toBeGreaterThan(2 * plain);
  });

  test('a rise that four peaks keep to is a drift of unknown start: its change over sqrt(3) more', () => {
    const rising = agreed([0, 0.003, 0.006, 0.009])?.steady?.standardUncertainty ?? 0;
    const mixed = agreed([0, 0.009, 0.003, 0.006])?.steady?.standardUncertainty ?? 0;
    expect(rising).toBeCloseTo(Math.hypot(mixed, 0.009 / Math.sqrt(3)), 5);
    expect(agreed([0, 0.004, 0.008])?.steady?.standardUncertainty).toBeLessThan(0.009);
  });
});

describe('the noise of the readings', () => {
  test('is the variance they show over the assumed one, with two degrees of freedom assumed', () => {
    expect(noiseScale([])).toBe(1);
    expect(noiseScale([peak(0, { misfit: 6, freedom: 2 })])).toBe(2);
    expect(noiseScale([peak(0, { misfit: 6, freedom: 2 }), peak(0, { misfit: 4, freedom: 2 })])).toBe(2);
    expect(standardOfPeak(peak(0, { placing: 9, shape: 8 }), 4)).toBe(10);
  });
});

describe('the trend of values', () => {
  test('is the median slope of all pairs, where enough of them go one way', () => {
    expect(trendOf([1, 2, 3, 4], 1)).toBe(3);
    expect(trendOf([4, 3, 2, 1], 1)).toBe(-3);
    expect(trendOf([0, 2, 1], 0.66)).toBe(1);
    expect(trendOf([0, 2, 1], 0.67)).toBe(0);
    expect(trendOf([3, 1, 2, 0.5], 0.8)).toBeCloseTo(-2, 9);
    expect(trendOf([1, 1, 1], 0.5)).toBe(0);
    expect(trendOf([5], 0)).toBe(0);
  });
});

describe('evidence against peaks that agree', () => {
  const against = (offs: readonly number[], side: Side = 'bore') => agreed(offs, side)?.against;

  test('a change of 0.03 mm over four peaks or more, four pairs in five one way', () => {
    expect(against([0, 0.008, 0.016, 0.024, 0.032])).toMatchObject({ kind: 'drifting', peaks: 5 });
    expect(against([0, -0.008, -0.016, -0.024, -0.032])).toMatchObject({ kind: 'drifting' });
    expect(against([0, 0.007, 0.014, 0.021, 0.028])?.kind).not.toBe('drifting');
    expect(against([0, 0.01, 0.02, 0.031])).toMatchObject({ kind: 'drifting', peaks: 4 });
    expect(against([0, 0.016, 0.032])?.kind).not.toBe('drifting');
    expect(against([0, 0.024, 0.008, 0.016, -0.032])?.kind).not.toBe('drifting');
    const found = against([0, 0.01, 0.02, 0.03, 0.04]);
    expect(found?.kind === 'drifting' && found.change).toBeCloseTo(0.04, 9);
  });

  test.each(['bore', 'outside'] as const)('the bad seats of a %s among them hide no drift', (side) => {
    expect(against([0, 0.012, -0.03, 0.024, 0.036, -0.02], side)).toMatchObject({
      kind: 'drifting',
      peaks: 4,
    });
    expect(against([0, 0.012, -0.017, 0.024, 0.036, 0.007], side)?.kind).not.toBe('drifting');
  });

  test('a poorly placed peak and one far away say nothing of a drift', () => {
    const offs = [0, 0.008, 0.016, 0.024, 0.032];
    expect(with2(offs, 0, { shape: 0.016 })?.against).toBeNull();
    expect(against([-0.11, 0.008, 0.016, 0.024, 0.032])).toBeNull();
  });

  test.each(['bore', 'outside'] as const)(
    'two peaks of a %s alike and lower before the others, or after them',
    (side) => {
      const up = against([-0.1, -0.09, 0, 0, 0], side);
      expect(up?.kind).toBe('jumped');
      expect(up?.kind === 'jumped' && up.change).toBeCloseTo(side === 'bore' ? 0.095 : -0.095, 9);
      const down = against([0, 0, 0, -0.1, -0.09], side);
      expect(down?.kind === 'jumped' && down.change).toBeCloseTo(side === 'bore' ? -0.095 : 0.095, 9);
    },
  );

  test('two unlike and lower are a jump before the others, and none after them', () => {
    expect(against([-0.1, -0.14, 0, 0, 0])?.kind).toBe('jumped');
    expect(against([0, 0, 0, -0.1, -0.14])?.kind).not.toBe('jumped');
  });

  test('one lower, two of four, or less than 0.045 mm are no jump', () => {
    expect(against([-0.1, 0, 0, 0])).toBeNull();
    expect(against([-0.1, -0.1, -0.035, -0.035, 0, 0, 0, 0])?.kind).not.toBe('jumped');
    expect(against([-0.044, -0.044, 0, 0, 0])?.kind).not.toBe('jumped');
    expect(against([-0.046, -0.046, 0, 0, 0])?.kind).toBe('jumped');
    expect(against([-0.1, 0, 0, -0.1, 0])?.kind).not.toBe('jumped');
  });

  test('a single peak higher at either end, if two of its readings are', () => {
    const high = peak(0.1, {}, 0);
    const rest = peaksAt([0, 0, 0, 0]);
    const judged = (peaks: readonly Peak[]) => agreementOf(peaks, untilted('bore'), 0.01)?.against;
    expect(judged([high, ...rest])).toMatchObject({ kind: 'jumped' });
    expect(judged([...rest, high])).toMatchObject({ kind: 'jumped' });
    expect(judged([{ ...high, alone: 0.11 }, ...rest])).toBeNull();
    expect(judged([{ ...high, shape: 0.034 }, ...rest])).toBeNull();
  });

  test('no flank on most of those that agree', () => {
    const flat = (count: number) =>
      agreementOf(
        [0, 0, 0, 0].map((off, i) => peak(off, { isCurved: i >= count }, i)),
        untilted('bore'),
        0.01,
      )?.against;
    expect(flat(2)).toBeNull();
    expect(flat(3)).toEqual({ kind: 'no-curve' });
  });

  const swung = (count: number, height: number, vary: number) =>
    agreementOf(
      Array.from({ length: count }, (_, i) => {
        const valley = 50 - height - vary * (i % 3);
        return peak(0, { height, sides: [valley, valley] }, i);
      }),
      untilted('bore'),
      0.01,
    )?.against;

  test('the smaller the rocks, the less is left to chance, and less where no more agree than must', () => {
    expect(swung(3, 0.08, 0.01)).toMatchObject({ kind: 'held-off' });
    expect(swung(4, 0.08, 0.01)).toBeNull();
    expect(swung(3, 0.2, 0.005)).toBeNull();
  });

  test('valleys as alike as the peaks, or none of 0.05 mm: the jaws may be held off the diameter', () => {
    const mixed = agreementOf(
      [0.04, 0.06, 0.04, 0.06].map((height, i) => peak(0, { height }, i)),
      untilted('bore'),
      0.01,
    );
    expect(mixed?.against).toBeNull();
    expect(swung(6, 0.1, 0)).toMatchObject({ kind: 'held-off', height: 0.1 });
    expect(swung(6, 0.1, 0.05)).toBeNull();
    expect(swung(6, 0.6, 0)).toBeNull();
    expect(swung(6, 0.04, 0.05)).toMatchObject({ kind: 'held-off' });
    expect(swung(6, 0.05, 0.05)).toBeNull();
    expect(swung(3, 0.1, 0.004)).toMatchObject({ kind: 'held-off' });
  });
});
