// Figures on the screen: rounded once, and never finer than they are known.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  ago,
  band,
  counted,
  figure,
  leftFigure,
  percent,
  pitchFigure,
  readingFigure,
  spanFigure,
  withDoubt,
} from '../../src/core/figures.ts';
import { inches, type LengthUnit, length, mm, tpi } from '../../src/core/units.ts';

describe('a reading', () => {
  test.each([
    [mm(42.3), mm(0.01), 'mm', '42.30'],
    [mm(42.3), mm(0.1), 'mm', '42.3'],
    [inches(2.0605), inches(0.0005), 'in', '2.0605'],
    [inches(2.0605), inches(0.0005), 'mm', '52.34'],
    [mm(52.34), mm(0.01), 'in', '2.0606'],
    [mm(-0.004), mm(0.01), 'mm', '0.00'],
    [mm(-0.31), mm(0.01), 'mm', '-0.31'],
  ] as const)('of %d in steps of %d shows in %s as %s', (value, step, unit, shown) => {
    expect(readingFigure(value, step, unit)).toBe(shown);
  });
});

describe('a value with its 95 %% interval', () => {
  test.each([
    [mm(42.296), mm(0.014), '42.30 ± 0.02 mm'],
    [mm(42.296), mm(0.004), '42.30 ± 0.01 mm'],
    [mm(0.154), mm(0.35), '0.2 ± 0.4 mm'],
    [mm(0.154), mm(0.12), '0.15 ± 0.12 mm'],
    [mm(0.154), mm(2.1), '0.2 ± 2.1 mm'],
    [mm(50.4), mm(4), '50 ± 4 mm'],
  ] as const)('%d ± %d shows as %s', (value, half, shown) => {
    expect(withDoubt(value, half, 'mm')).toBe(shown);
  });

  test('is never shown as more certain than it is, and with at most two digits of the interval', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.0001, max: 9, noNaN: true }),
        fc.double({ min: -200, max: 200, noNaN: true }),
        (half, value) => {
          const shown = withDoubt(mm(value), mm(half), 'mm');
          const [, told = ''] = /± (\S+) mm$/.exec(shown) ?? [];
          expect(Number(told)).toBeGreaterThanOrEqual(half - 1e-6);
          expect(told.replace(/^[0.]+/, '').replace('.', '').length).toBeLessThanOrEqual(2);
        },
      ),
    );
  });
});

test('figures without a step show what a caliper shows', () => {
  expect([figure(mm(43.4), 'mm'), figure(mm(43.4), 'in')]).toEqual(['43.40', '1.7087']);
  expect([spanFigure(mm(0), 'mm'), spanFigure(mm(0.034), 'mm'), spanFigure(mm(0), 'in')]).toEqual([
    '0.01 mm',
    '0.03 mm',
    '0.0005 in',
  ]);
});

test('pitches stay as they were given', () => {
  const given = { kind: 'tpi', threads: 16 } as const;
  expect(pitchFigure({ length: tpi(16), given })).toBe('16 TPI');
  expect(pitchFigure({ length: tpi(11.5), given: { kind: 'tpi', threads: 11.5 } })).toBe('11.5 TPI');
  expect(pitchFigure({ length: mm(1.5), given: { kind: 'metric' } })).toBe('1.5 mm');
  expect(pitchFigure({ length: mm(2), given: { kind: 'metric' } })).toBe('2 mm');
});

test('shares, counts and times are written as a person would say them', () => {
  expect([0.004, 0.18, 0.5, 0.996].map(percent)).toEqual(['under 1 %', '18 %', '50 %', 'over 99 %']);
  expect([counted(1, 'detent'), counted(3, 'detent')]).toEqual(['1 detent', '3 detents']);
  const minute = 60_000;
  expect([0.5, 5, 130, 30 * 60, 72 * 60].map((minutes) => ago(minutes * minute))).toEqual([
    'just now',
    '5 min ago',
    '2 h ago',
    'yesterday',
    '3 days ago',
  ]);
});

test('what is left to a target is as fine as the caliper and the target both are', () => {
  const left = (step: number, half: number, unit: LengthUnit) =>
    leftFigure(inches(0.0123), length(step, unit), unit, mm(half));
  expect(left(0.0005, 0.005, 'in')).toBe('0.0123');
  expect(left(0.0005, 0.15, 'in')).toBe('0.012');
  expect(left(0.01, 0.005, 'in')).toBe('0.01');
  expect(left(0.01, 0.7, 'mm')).toBe('0.31');
  expect(left(0.1, 0.05, 'mm')).toBe('0.3');
});

test('a band is rounded inwards, and never so coarsely that a cut could not be stopped at its end', () => {
  expect(band(mm(25.613), mm(25.836), 'mm', mm(0.5))).toBe('25.62 to 25.83 mm');
  expect(band(mm(25.613), mm(25.836), 'in', mm(0.17))).toBe('1.009 to 1.017 in');
  expect(band(inches(1), inches(1.01), 'in', mm(0))).toBe('1.0000 to 1.0100 in');
  expect(band(inches(1), inches(1.01), 'in')).toBe('1.000 to 1.010 in');
  expect(band(mm(25.613), mm(25.614), 'mm')).toBe('25.61 to 25.61 mm');
});
