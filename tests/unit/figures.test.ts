// Figures on the screen: rounded once, and never finer than they are known.
import fc from 'fast-check';
import { expect, test } from 'vitest';
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
import { number } from '../support/arbitrary.ts';

const known = (value: number, half: number) => withDoubt(mm(value), mm(half), 'mm');
const taper = (by: number, widerAt: 'near' | 'far') =>
  taperFigure({ by: mm(by), widerAt }, { near: 'mouth', far: 'bottom' }, 'mm');
const metric = (pitch: number) => pitchFigure({ length: mm(pitch), given: { kind: 'metric' } });
const imperial = (threads: number) => pitchFigure({ length: tpi(threads), given: { kind: 'tpi', threads } });
const left = (step: number, half: number, unit: LengthUnit) =>
  leftFigure(inches(0.0123), length(step, unit), unit, mm(half));

test.each<[what: string, shown: string, said: string]>([
  ['a reading in tenths', readingFigure(mm(42.3), mm(0.1), 'mm'), '42.3'],
  ['a reading in half thousandths', readingFigure(inches(2.0605), inches(0.0005), 'in'), '2.0605'],
  ['a reading a hair below nothing', readingFigure(mm(-0.004), mm(0.01), 'mm'), '0.00'],
  ['a reading below nothing', readingFigure(mm(-0.31), mm(0.01), 'mm'), '-0.31'],
  ['a reading between two decimals', readingFigure(mm(42.3456), mm(0.005), 'mm'), '42.346'],
  ['a reading finer than any', readingFigure(mm(42.345678), mm(0.000001), 'mm'), '42.3457'],
  ['a reading in whole ones', readingFigure(mm(42.3), mm(1), 'mm'), '42'],
  ['a reading in steps of more', readingFigure(mm(42.3), mm(20), 'mm'), '42'],
  ['a value known to one digit', known(42.296, 0.004), '42.30 ± 0.01 mm'],
  ['a value known badly', known(0.154, 0.35), '0.2 ± 0.4 mm'],
  ['a value known to two digits', known(0.154, 0.12), '0.15 ± 0.12 mm'],
  ['a value known to whole ones', known(50.4, 4), '50 ± 4 mm'],
  ['a first digit of three', known(50.44, 3), '50 ± 3 mm'],
  ['a first digit under three', known(50.44, 2.99), '50.4 ± 3.0 mm'],
  ['a value without doubt', known(50.446, 0), '50.45 ± 0.00 mm'],
  ['a length', figure(mm(43.4), 'mm'), '43.40'],
  ['a length with its unit', lengthFigure(mm(43.4), 'in'), '1.7087 in'],
  ['no span', spanFigure(mm(0), 'mm'), '0.01 mm'],
  ['no span in inches', spanFigure(mm(0), 'in'), '0.0005 in'],
  ['a span', spanFigure(mm(0.034), 'mm'), '0.03 mm'],
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
  ['the rest, as fine as the caliper', left(0.0005, 0.005, 'in'), '0.0123'],
  ['the rest, as fine as the target is known', left(0.0005, 0.15, 'in'), '0.012'],
  ['the rest by a coarse caliper', left(0.01, 0.005, 'in'), '0.01'],
  ['the rest in millimetres', left(0.01, 0.7, 'mm'), '0.31'],
  ['the rest by a coarse caliper in millimetres', left(0.1, 0.05, 'mm'), '0.3'],
  ['a band, rounded inwards', band(mm(25.613), mm(25.836), 'mm', mm(0.5)), '25.62 to 25.83 mm'],
  ['a band in inches', band(mm(25.613), mm(25.836), 'in', mm(0.17)), '1.009 to 1.017 in'],
  ['a band without doubt', band(inches(1), inches(1.01), 'in', mm(0)), '1.0000 to 1.0100 in'],
  ['a band of which nothing is known', band(inches(1), inches(1.01), 'in'), '1.000 to 1.010 in'],
  ['a band narrower than a cut', band(mm(25.613), mm(25.614), 'mm'), '25.61 to 25.61 mm'],
  ['a chosen pitch', pitchLength(mm(1.5875), 'mm'), '1.5875'],
  ['a chosen pitch in inches', pitchLength(mm(2.54), 'in'), '0.1'],
  ['a pitch given in threads', imperial(16), '16 TPI'],
  ['a pitch given in half threads', imperial(11.5), '11.5 TPI'],
  ['a pitch given in millimetres', metric(1.5), '1.5 mm'],
  ['a pitch of whole millimetres', metric(2), '2 mm'],
  ['a sharp tip', tipFigure({ kind: 'sharp' }, 'mm'), 'sharp'],
  ['a flat', tipFigure({ kind: 'flat', width: mm(0.2) }, 'mm'), 'flat 0.20 mm'],
  ['a nose', tipFigure({ kind: 'radius', radius: mm(0.1) }, 'in'), 'nose 0.0039 in'],
  ['a taper', taper(0.12, 'near'), '0.12 mm wider at the mouth'],
  ['a taper the other way', taper(0.12, 'far'), '0.12 mm wider at the bottom'],
  ['no taper', taper(0, 'far'), 'the same at both ends'],
  ['a share within 5 %', percentWithDoubt(0.825, 0.05), '83 ± 5 %'],
  ['a share within a little more', percentWithDoubt(0.825, 0.051), '83 ± 6 %'],
  ['a share within nearly 30 %', percentWithDoubt(0.825, 0.299), '83 ± 30 %'],
  ['a share within 30 %', percentWithDoubt(0.54, 0.3), '50 ± 30 %'],
  ['a share within over 30 %', percentWithDoubt(0.56, 0.31), '60 ± 40 %'],
  ['a share without doubt', percentWithDoubt(0.56, 0), '56 ± 1 %'],
  ['less than one', counted(-1, 'detent'), '-1 detent'],
  ['three', counted(3, 'detent'), '3 detents'],
  ['two of another plural', counted(2, 'box', 'boxes'), '2 boxes'],
])('%s shows as it is said', (_, shown, said) => {
  expect(shown).toBe(said);
});

test('an interval is never shown narrower than it is, and with at most two digits', () => {
  fc.assert(
    fc.property(number(0.0001, 9), number(-200, 200), (half, value) => {
      const [, told = ''] = /± (\S+) mm$/.exec(known(value, half)) ?? [];
      expect(Number(told)).toBeGreaterThanOrEqual(half - 1e-6);
      expect(told.replace(/^[0.]+/, '').replace('.', '').length).toBeLessThanOrEqual(2);
    }),
  );
});

test('shares and times are written as a person would say them', () => {
  const shares = ['under 1 %', '1 %', '18 %', '99 %', 'over 99 %'];
  expect([0.004, 0.01, 0.18, 0.99, 0.996].map(percent)).toEqual(shares);
  const minutes = ['just now', '1 min ago', '59 min ago', '1 h ago', '2 h ago'];
  expect([0.99, 1, 59, 60, 130].map((count) => ago(count * 60_000))).toEqual(minutes);
  const hours = ['23 h ago', 'yesterday', 'yesterday', '2 days ago', '3 days ago'];
  expect([23.9, 24, 47.9, 48, 72].map((count) => ago(count * 3_600_000))).toEqual(hours);
});
