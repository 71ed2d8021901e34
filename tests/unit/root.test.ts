// The bracketing root finder: how few evaluations it takes, that it stays in its bracket, and what it says without a root.
import { expect, test } from 'vitest';
import { rootBetween } from '../../src/core/root.ts';

/** Halving alone takes 41 looks to bring a bracket of 2 down to 1e-12. */
test.each([
  { name: 'x^2 - 2', f: (x: number) => x * x - 2, low: 0, high: 2, at: Math.SQRT2, most: 9 },
  { name: '2 - x^2', f: (x: number) => 2 - x * x, low: 0, high: 2, at: Math.SQRT2, most: 9 },
  { name: 'cos x - x', f: (x: number) => Math.cos(x) - x, low: 0, high: 1, at: 0.7390851332151607, most: 8 },
  { name: 'x^9 - 1/2', f: (x: number) => x ** 9 - 0.5, low: 0, high: 4, at: 0.5 ** (1 / 9), most: 16 },
  { name: 'e^x - 2', f: (x: number) => Math.exp(x) - 2, low: -4, high: 4, at: Math.LN2, most: 12 },
  { name: 'a steep step', f: (x: number) => Math.atan(50 * (x - 0.3)), low: -1, high: 1, at: 0.3, most: 12 },
  { name: 'a line', f: (x: number) => 3 * x - 1, low: 0, high: 5, at: 1 / 3, most: 3 },
  { name: 'a jump', f: (x: number) => (x < 0.4 ? -1 : x - 0.3), low: 0, high: 1, at: 0.4, most: 60 },
])('$name is solved in at most $most looks', ({ f, low, high, at, most }) => {
  const looked: number[] = [];
  const root = rootBetween(
    (x) => {
      looked.push(x);
      return f(x);
    },
    low,
    high,
  );
  expect(root).toEqual({ ok: true, at: expect.closeTo(at, 11) });
  expect(looked.length).toBeLessThanOrEqual(most);
  expect(Math.min(...looked)).toBe(low);
  expect(Math.max(...looked)).toBe(high);
});

test('a coarser tolerance is looked for less often, and kept', () => {
  let looks = 0;
  const root = rootBetween(
    (x) => {
      looks += 1;
      return x ** 3 - 2 * x - 5;
    },
    2,
    3,
    0.01,
  );
  // the root of Wallis's own example, x^3 - 2x - 5: 2.0945514815 (textbook, from memory)
  expect(root.ok && Math.abs(root.at - 2.0945514815)).toBeLessThan(0.01);
  expect(looks).toBeLessThan(7);
});

test('a root at an end is that end', () => {
  expect(rootBetween((x) => x, 0, 1)).toEqual({ ok: true, at: 0 });
  expect(rootBetween((x) => x - 1, 0, 1)).toEqual({ ok: true, at: 1 });
  expect(rootBetween((x) => x * (x - 1), 0, 1)).toMatchObject({ ok: true });
});

test('no crossing and no number are said, with what was found', () => {
  expect(rootBetween((x) => x + 1, 0, 1)).toEqual({ ok: false, kind: 'no-sign-change', ends: [1, 2] });
  expect(rootBetween((x) => -x - 1, 0, 1)).toEqual({ ok: false, kind: 'no-sign-change', ends: [-1, -2] });
  expect(rootBetween((x) => Math.log(x), 0, 1)).toEqual({ ok: false, kind: 'not-finite', where: 0 });
  expect(rootBetween((x) => 1 / (1 - x), 0, 1)).toEqual({ ok: false, kind: 'not-finite', where: 1 });
  const broken = rootBetween((x) => (x > 0 && x < 1 ? Number.NaN : x - 0.5), 0, 1);
  expect(broken).toEqual({ ok: false, kind: 'not-finite', where: 0.5 });
});
