// Quantities typed at the bench: sizes, pitches, seasons and readings, read and written back as text.
import { describe, expect, test } from 'vitest';
import {
  lengthText,
  pitchText,
  seasonIn,
  typedReading,
  typedSize,
} from '../../src/core/bench/typed-quantity.ts';
import { inches, mm, tpi } from '../../src/core/units.ts';
import { played } from '../support/bench.ts';
import { near } from '../support/story.ts';

describe('quantities as text', () => {
  test("of nothing isn't a size", () => {
    expect(typedSize(' 0 ', 'mm')).toMatchObject({ ok: false, found: '0', accepted: 'a length above zero' });
    expect(typedSize('0.01', 'mm')).toEqual({ ok: true, value: 0.01 });
  });

  test.each([
    [lengthText(mm(0.15), 'mm'), '0.15mm'],
    [lengthText(inches(0.1235), 'in'), '0.1235in'],
    [pitchText({ length: tpi(16), given: { kind: 'tpi', threads: 16 } }), '16tpi'],
    [pitchText({ length: mm(1.5), given: { kind: 'metric' } }), '1.5mm'],
  ])('%s', (text, expected) => expect(text).toBe(expected));

  test.each(['30%', '30%-', '-65%', '30-65%', '30%-65', '65%-30%', '50%-50%', '30%-40%-65%', ''])(
    'a season is two humidities, the drier first: %j is none',
    (text) => {
      expect(seasonIn(text)).toBeNull();
      expect(seasonIn('30%-65%')).toEqual({ from: 0.3, to: 0.65 });
    },
  );

  test.each([
    [' 42.30 mm ', '42.30', 42.3],
    ['42.3MM', '42.3', 42.3],
    ['2.05 inches', '2.05', 2.05 * 25.4],
    ['2.0500"', '2.0500', 2.05 * 25.4],
    ['1.7in', '1.7', 1.7 * 25.4],
  ])('a typed %j is known by its digits, and is as fine as the caliper', (text, digits, value) => {
    const reading = { text: digits, raw: '', step: 0.01, value: near(value) };
    expect(typedReading(played('').ready, text)).toMatchObject({ ok: true, value: reading });
  });
});
