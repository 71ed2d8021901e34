// Figures on the screen: rounded once, and never finer than they are known.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  ago,
  asKnown,
  band,
  counted,
  cutFigure,
  cutLength,
  cutLengthUp,
  figure,
  fineFigure,
  fineWithDoubt,
  leftFigure,
  lengthFigure,
  percent,
  percentWithDoubt,
  pitchFigure,
  pitchLength,
  readingFigure,
  roughFigure,
  spanFigure,
  taperFigure,
  tipFigure,
  withDoubt,
} from '../../src/core/figures.ts';
import { inches, type LengthUnit, length, mm, tpi } from '../../src/core/units.ts';

describe('a reading', () => {
  test.each([
    [mm(42.3), mm(0.1), 'mm', '42.3'],
    [inches(2.0605), inches(0.0005), 'in', '2.0605'],
    [mm(-0.004), mm(0.01), 'mm', '0.00'],
    [mm(-0.31), mm(0.01), 'mm', '-0.31'],
    [mm(42.3456), mm(0.005), 'mm', '42.346'],
    [mm(42.345678), mm(0.000001), 'mm', '42.3457'],
    [mm(42.3), mm(1), 'mm', '42'],
    [mm(42.3), mm(20), 'mm', '42'],
  ] as const)('of %d in steps of %d shows in %s as %s', (value, step, unit, shown) => {
    expect(readingFigure(value, step, unit)).toBe(shown);
  });
});

describe('a value with its 95 %% interval', () => {
  test.each([
    [mm(42.296), mm(0.004), '42.30 ± 0.01 mm'],
    [mm(0.154), mm(0.35), '0.2 ± 0.4 mm'],
    [mm(0.154), mm(0.12), '0.15 ± 0.12 mm'],
    [mm(50.4), mm(4), '50 ± 4 mm'],
    [mm(50.44), mm(3), '50 ± 3 mm'],
    [mm(50.44), mm(2.99), '50.4 ± 3.0 mm'],
    [mm(50.446), mm(0), '50.45 ± 0.00 mm'],
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

test.each([
  ['a length', lengthFigure(mm(43.4), 'in'), '1.7087 in'],
  ['one known finer', fineFigure(mm(0.05), 'mm'), '0.05 mm'],
  ['one known finer, rounded', fineFigure(mm(0.05049), 'mm'), '0.05 mm'],
  ['one known finer, in inches', fineFigure(mm(0.05), 'in'), '0.002 in'],
  ['one known finer, a hair below nothing', fineFigure(mm(-0.0001), 'mm'), '0 mm'],
  ['one nobody measured', roughFigure(mm(43.44), 'mm'), '43.4'],
  ['one nobody measured, in inches', roughFigure(mm(43.44), 'in'), '1.71'],
  ['one as fine as it is known', asKnown(mm(0.154), mm(0.35), 'mm'), '0.2 mm'],
  ['no finer than a caliper', asKnown(mm(0.1546), mm(0.0001), 'mm'), '0.15 mm'],
  ['a detent', fineWithDoubt(mm(0.0501234), mm(0.00012), 'mm').value, '0.05012'],
  ['its interval, rounded up', fineWithDoubt(mm(0.05), mm(0.000121), 'mm').half, '0.00013'],
  ['one that nobody doubts', fineWithDoubt(mm(0.05), mm(0), 'mm').value, '0.0500'],
  ['a cut known well', cutFigure(inches(1.00846), 'in', inches(0.0002)), '1.0085'],
  ['a cut known badly', cutFigure(inches(1.00846), 'in', inches(0.2)), '1.008'],
  ['a cut with its unit', cutLength(inches(1.0084), 'in'), '1.008 in'],
  ['a least size', cutLengthUp(mm(2.501), 'mm'), '2.51 mm'],
  ['a least size that is a whole step', cutLengthUp(mm(2.5), 'mm'), '2.50 mm'],
  ['a chosen pitch', pitchLength(mm(1.5875), 'mm'), '1.5875'],
  ['a chosen pitch in inches', pitchLength(mm(2.54), 'in'), '0.1'],
  ['a sharp tip', tipFigure({ kind: 'sharp' }, 'mm'), 'sharp'],
  ['a flat', tipFigure({ kind: 'flat', width: mm(0.2) }, 'mm'), 'flat 0.20 mm'],
  ['a nose', tipFigure({ kind: 'radius', radius: mm(0.1) }, 'in'), 'nose 0.0039 in'],
])('%s shows as it is said', (_, shown, said) => {
  expect(shown).toBe(said);
});

test('a taper says which end is the wider', () => {
  const names = { near: 'mouth', far: 'bottom' };
  const taper = (by: number, widerAt: 'near' | 'far') => taperFigure({ by: mm(by), widerAt }, names, 'mm');
  expect([taper(0.12, 'near'), taper(0.12, 'far'), taper(0, 'far')]).toEqual([
    ...['0.12 mm wider at the mouth', '0.12 mm wider at the bottom', 'the same at both ends'],
  ]);
});

test.each([
  [0.825, 0.05, '83 ± 5 %'],
  [0.825, 0.051, '83 ± 6 %'],
  [0.825, 0.299, '83 ± 30 %'],
  [0.54, 0.3, '50 ± 30 %'],
  [0.56, 0.31, '60 ± 40 %'],
  [0.56, 0, '56 ± 1 %'],
])('a share of %d known within %d shows as %s', (share, half, shown) => {
  expect(percentWithDoubt(share, half)).toBe(shown);
});

test('figures without a step have the digits of a caliper', () => {
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
  expect([0.004, 0.01, 0.18, 0.99, 0.996].map(percent)).toEqual([
    ...['under 1 %', '1 %', '18 %', '99 %', 'over 99 %'],
  ]);
  expect([counted(-1, 'detent'), counted(3, 'detent'), counted(2, 'box', 'boxes')]).toEqual([
    ...['-1 detent', '3 detents', '2 boxes'],
  ]);
  const minute = 60_000;
  expect([0.99, 1, 59, 60, 130].map((minutes) => ago(minutes * minute))).toEqual([
    ...['just now', '1 min ago', '59 min ago', '1 h ago', '2 h ago'],
  ]);
  expect([23.9, 24, 47.9, 48, 72].map((hours) => ago(hours * 60 * minute))).toEqual([
    ...['23 h ago', 'yesterday', 'yesterday', '2 days ago', '3 days ago'],
  ]);
});

test('the rest to a target is as fine as the coarser of caliper and target', () => {
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
