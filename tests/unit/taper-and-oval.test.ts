// Tapered and oval parts: what they take off the clearance, and the tightest width in any orientation.
import { describe, expect, test } from 'vitest';
import { ovalityOf, pairTaper, tightestOf } from '../../src/core/thread/taper-and-oval.ts';
import { mm } from '../../src/core/units.ts';

describe('tapers of an engaged length', () => {
  const along = (near: number, far: number) => ({ near: mm(near), far: mm(far) });
  const of = (...parts: Parameters<typeof pairTaper>) => {
    const { tightens, gains } = pairTaper(...parts);
    return [Number(tightens.toFixed(9)), Number(gains.toFixed(9)) + 0];
  };

  test('a bore that closes in takes its whole change off the clearance; one that widens takes nothing', () => {
    expect(of(along(42.4, 42.2), null)).toEqual([0.2, -0.2]);
    expect(of(along(42.2, 42.4), null)).toEqual([0, 0.2]);
    expect(of(along(42.21, 42.2), null)).toEqual([0, 0]);
    expect(of(null, null)).toEqual([0, 0]);
  });

  test('a spigot wider at its end takes its change off, one wider at its shoulder takes nothing', () => {
    expect(of(null, along(43.4, 43.5))).toEqual([0.1, -0.1]);
    expect(of(null, along(43.5, 43.4))).toEqual([0, 0.1]);
  });

  test('of the same cone fit each other once closed, and open as they close', () => {
    expect(of(along(42.4, 42.2), along(43.5, 43.3))).toEqual([0, 0]);
    // the spigot's wide end has to pass the mouth, where the bore that widens is narrowest
    expect(of(along(42.2, 42.4), along(43.3, 43.5))).toEqual([0.2, 0]);
    expect(of(along(42.4, 42.2), along(43.4, 43.5))).toEqual([0.3, -0.3]);
  });

  test('the tightest meeting on the way is taken off', () => {
    // each width of the spigot, s of the way to its end, meets the bore from its mouth to s
    const steps = Array.from({ length: 21 }, (_, at) => at / 20);
    for (const [bore, spigot] of [
      [0.13, 0.07],
      [-0.13, 0.07],
      [0.13, -0.07],
      [-0.13, -0.07],
    ] as const) {
      const meetings = steps.flatMap((s) => steps.filter((b) => b <= s).map((b) => spigot * s + bore * b));
      expect(of(along(42, 42 - bore), along(43, 43 + spigot))[0]).toBeCloseTo(Math.max(...meetings), 9);
    }
  });
});

test('two diameters square to each other give an oval its tightest width in any orientation', () => {
  // widths 42.3 + 0.1 cos 2x in 1,000 orientations: the mean of what is found is the true narrowest and widest
  const orientations = Array.from({ length: 1000 }, (_, at) => (Math.PI * (at + 0.5)) / 1000);
  const found = orientations.map((x) => {
    const across = 0.1 * Math.cos(2 * x);
    return ovalityOf(mm(42.3 + across), mm(42.3 - across));
  });
  const mean = (values: readonly number[]) => values.reduce((so, value) => so + value, 0) / values.length;
  expect(mean(found.map((oval) => tightestOf('female', oval)))).toBeCloseTo(42.2, 5);
  expect(mean(found.map((oval) => tightestOf('male', oval)))).toBeCloseTo(42.4, 5);
  const spread = Math.sqrt(mean(found.map(({ narrowest }) => (narrowest - 42.2) ** 2)));
  expect(mean(found.map(({ standard }) => standard))).toBeCloseTo(spread, 3);
  expect(ovalityOf(mm(42.3), mm(42.3))).toEqual({
    ...{ difference: 0, round: true, narrowest: 42.3, widest: 42.3, standard: 0 },
  });
});
