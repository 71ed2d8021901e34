// Quantities as people type them: what is read, and what is refused by name with what is accepted instead.
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Parsed,
  parseAngle,
  parseCount,
  parseHumidity,
  parseLength,
  parseMoisture,
  parsePitch,
  parsePositiveLength,
  parseTemperature,
  parseUnit,
  parseUnsignedLength,
  parseWord,
  refusal,
} from '../../src/core/quantity.ts';
import { inDegrees, inPercent } from '../../src/core/units.ts';
import { numbersIn } from '../support/arbitrary.ts';

const worth = (parsed: Parsed<number>): number | undefined => (parsed.ok ? parsed.value : undefined);

function refused(parsed: Parsed<unknown>): Extract<Parsed<unknown>, { ok: false }> {
  if (parsed.ok) throw new Error('accepted');
  return parsed;
}

test.each([
  ['50mm', 50],
  ['50 mm', 50],
  [' 50.5MM ', 50.5],
  ['.5mm', 0.5],
  ['5.mm', 5],
  ['-0.01mm', -0.01],
  ['2in', 50.8],
  ['2"', 50.8],
  [' 1/2in ', 12.7],
  ['1-1/2in', 38.1],
  ['1 1/2"', 38.1],
  ['12-11/16 in', 12.6875 * 25.4],
])('the length %s is %d mm', (text, millimetres) => {
  expect(worth(parseLength(text))).toBeCloseTo(millimetres, 9);
});

test.each(['50', 'about 1/2in', '1/2in or so', '5ft', '1,5mm', '1/0in', '1e3mm', '', '½in'])(
  'the length %j is refused',
  (text) => {
    expect(parseLength(text)).toMatchObject({ ok: false, kind: 'bad-quantity', found: text });
  },
);

test('a bare number is a length only where its unit is set', () => {
  expect(worth(parseLength('2', 'in'))).toBeCloseTo(50.8, 9);
  expect(worth(parseLength('2mm', 'in'))).toBe(2);
});

test('a size beyond any bench is refused; the bounds themselves and zero are not', () => {
  for (const text of ['0mm', '1000000000mm', '-1000000000mm', '0.000000001mm', '-0.000000001mm'])
    expect(worth(parseLength(text))).toBe(Number.parseFloat(text));
  for (const text of ['1000000001mm', '-1000000001mm', '0.0000000009mm', '-0.0000000009mm', '9999999999/3in'])
    expect(parseLength(text).ok).toBe(false);
});

test('a length above zero is above zero, and one of zero or more may be zero', () => {
  for (const text of ['0mm', '-1mm', '5']) expect(parsePositiveLength(text).ok).toBe(false);
  expect(worth(parsePositiveLength('0.001mm'))).toBe(0.001);
  expect(worth(parsePositiveLength('1', 'in'))).toBeCloseTo(25.4, 12);
  const { accepted } = refused(parseUnsignedLength('-0.01mm'));
  expect(accepted).toContain('zero or more');
  expect(worth(parseUnsignedLength('0mm'))).toBe(0);
  expect(worth(parseUnsignedLength('0.02', 'mm'))).toBe(0.02);
  expect(parseUnsignedLength('wide').ok).toBe(false);
});

test('a word is one of a few, however it is written, and a refusal names them all', () => {
  const parse = parseWord(['bore', 'lid', 'body']);
  expect(parse(' LID ')).toEqual({ ok: true, value: 'lid' });
  expect(parse('li')).toMatchObject({ ok: false, found: 'li', accepted: 'bore, lid or body' });
});

test('a unit goes by each of its names', () => {
  for (const [text, unit] of Object.entries({ mm: 'mm', ' IN ': 'in', inch: 'in', inches: 'in', '"': 'in' }))
    expect(parseUnit(text)).toEqual({ ok: true, value: unit });
  for (const wrong of ['', 'cm', 'mmm'])
    expect(parseUnit(wrong)).toMatchObject({ ok: false, accepted: 'mm or in' });
});

test('a pitch stays as it was given', () => {
  const [tpi, metric] = [{ kind: 'tpi', threads: 16 }, { kind: 'metric' }];
  expect(parsePitch('16tpi')).toEqual({ ok: true, value: { length: 1.5875, given: tpi } });
  expect(parsePitch('1.5mm')).toEqual({ ok: true, value: { length: 1.5, given: metric } });
  const inch = { length: expect.closeTo(2.54, 12), given: metric };
  expect(parsePitch('0.1in')).toEqual({ ok: true, value: inch });
  for (const wrong of ['0tpi', '-16tpi', '16', '0mm', 'tpi', '16 threads', '1e-999mm'])
    expect(parsePitch(wrong).ok).toBe(false);
});

describe('other quantities', () => {
  test('angles', () => {
    for (const text of ['60', '60deg', '60°', '60 degrees']) {
      const parsed = parseAngle(text);
      expect(parsed.ok && inDegrees(parsed.value)).toBeCloseTo(60, 9);
    }
    expect(worth(parseAngle('1.05rad'))).toBe(1.05);
    expect(parseAngle('60mm').ok).toBe(false);
  });

  test('temperatures, above absolute zero', () => {
    expect(worth(parseTemperature('68F'))).toBeCloseTo(20, 9);
    expect(worth(parseTemperature('20 °C'))).toBe(20);
    expect(worth(parseTemperature('-273C'))).toBe(-273);
    for (const wrong of ['20', '-300C', '-273.15C', '-459.7F', '20K', 'C'])
      expect(parseTemperature(wrong).ok).toBe(false);
  });

  test('humidity and moisture, with their sign and within bounds', () => {
    const humid = parseHumidity('45%');
    expect(humid.ok && inPercent(humid.value)).toBeCloseTo(45, 9);
    expect(worth(parseHumidity('0%'))).toBe(0);
    expect(worth(parseHumidity('100%'))).toBe(1);
    for (const wrong of ['400%', '100.1%', '-1%', '45', '0.45', '45mm', '%'])
      expect(parseHumidity(wrong).ok).toBe(false);
    expect(worth(parseMoisture('8.5%'))).toBe(8.5);
    expect(worth(parseMoisture('0%'))).toBe(0);
    expect(worth(parseMoisture('30%'))).toBe(30);
    for (const wrong of ['31%', '-1%', '8.5', '8.5mm', '%']) expect(parseMoisture(wrong).ok).toBe(false);
  });

  test('counts, whole and within bounds', () => {
    for (const text of ['1', ' 3 ', '4']) expect(worth(parseCount(text, 1, 4))).toBe(Number(text));
    expect(worth(parseCount('12', 1, 20))).toBe(12);
    for (const wrong of ['0', '5', '2.5', '-1', '1e0', '']) expect(parseCount(wrong, 1, 4).ok).toBe(false);
  });
});

test('a refusal names the option, shows what was found without control characters, and what is accepted', () => {
  expect(refusal('--bore', refused(parseLength('5\u001b[31mft')))).toBe(
    '--bore: "5?[31mft" isn\'t accepted. Give a number with mm or in, such as 50mm, 2.05in or 1-1/2in, with a point, not a comma.',
  );
  const long = refusal('--bore', refused(parseLength('x'.repeat(50), 'in')));
  expect(long).toContain(`"${'x'.repeat(39)}…"`);
  expect(long).toContain('(bare: in)');
});

test('any typed text gives a finite length or a refusal', () => {
  const parts = fc.array(
    fc.constantFrom('1', '0', '9', '.', '-', '+', '/', ' ', 'mm', 'in', '"', 'e', ',', 'tpi', '%'),
    { maxLength: 9 },
  );
  const texts = fc.oneof(
    fc.string(),
    parts.map((found) => found.join('')),
  );
  fc.assert(
    fc.property(texts, (text) => {
      for (const parse of [parseLength, parsePositiveLength, parsePitch, parseAngle]) {
        const parsed = parse(text);
        if (!parsed.ok) expect(parsed.accepted).not.toBe('');
        else expect(numbersIn(parsed.value).every(Number.isFinite)).toBe(true);
      }
    }),
  );
});
