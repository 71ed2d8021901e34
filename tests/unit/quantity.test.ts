// Quantities as people type them: what is read, and what is refused by name with what is accepted instead.
import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
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

const worth = (parsed: { ok: boolean; value?: number }): number | undefined =>
  parsed.ok ? parsed.value : undefined;

test.each([
  ['50mm', 50],
  ['50 mm', 50],
  [' 50.5MM ', 50.5],
  ['.5mm', 0.5],
  ['5.mm', 5],
  ['-0.01mm', -0.01],
  ['2in', 50.8],
  ['2"', 50.8],
  ['2 inches', 50.8],
  ['2inch', 50.8],
  [' 1/2in ', 12.7],
  ['1/2in', 12.7],
  ['1-1/2in', 38.1],
  ['1 1/2"', 38.1],
  ['12-11/16in', 12.6875 * 25.4],
  ['10/32 in', 7.9375],
])('the length %s is %d mm', (text, millimetres) => {
  expect(worth(parseLength(text))).toBeCloseTo(millimetres, 9);
});

test.each([
  '50',
  'about 1/2in',
  '1/2in or so',
  '1/2xin',
  '5ft',
  '50cm',
  '1,5mm',
  '1/0in',
  '1e3mm',
  'mm',
  '',
  '50mm2',
  '--5mm',
  'NaNmm',
  'Infinitymm',
  '1.2.3mm',
  '½in',
])('the length %j is refused', (text) => {
  const parsed = parseLength(text);
  expect(parsed).toMatchObject({ ok: false, kind: 'bad-quantity', found: text });
});

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

test('a length above zero is above zero', () => {
  expect(parsePositiveLength('0mm').ok).toBe(false);
  expect(parsePositiveLength('-1mm').ok).toBe(false);
  expect(parsePositiveLength('0.001mm').ok).toBe(true);
  expect(parsePositiveLength('5').ok).toBe(false);
  expect(worth(parsePositiveLength('1', 'in'))).toBeCloseTo(25.4, 12);
});

test('a length of zero or more may be zero', () => {
  expect(parseUnsignedLength('-0.01mm')).toMatchObject({
    ok: false,
    accepted: expect.stringContaining('zero or more'),
  });
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
  expect(parsePitch('16tpi')).toEqual({
    ok: true,
    value: { length: 1.5875, given: { kind: 'tpi', threads: 16 } },
  });
  expect(parsePitch('1.5mm')).toEqual({ ok: true, value: { length: 1.5, given: { kind: 'metric' } } });
  expect(parsePitch('0.1in')).toEqual({
    ok: true,
    value: { length: expect.closeTo(2.54, 12), given: { kind: 'metric' } },
  });
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
  const parsed = parseLength('5\u001b[31mft');
  if (parsed.ok) throw new Error('accepted');
  expect(refusal('--bore', parsed)).toBe(
    '--bore: "5?[31mft" isn\'t accepted. Give a number with mm or in, such as 50mm, 2.05in or 1-1/2in, with a point, not a comma.',
  );
});

test('a refusal shows no more than forty characters, and says what a bare number would mean', () => {
  const parsed = parseLength('x'.repeat(50), 'in');
  if (parsed.ok) throw new Error('accepted');
  const said = refusal('--bore', parsed);
  expect(said).toContain(`"${'x'.repeat(39)}…"`);
  expect(said).toContain('(bare: in)');
});

test('any typed text gives a finite length or a refusal', () => {
  const parts = fc.array(
    fc.constantFrom('1', '0', '9', '.', '-', '+', '/', ' ', 'mm', 'in', '"', 'e', ',', 'tpi', '%'),
    { maxLength: 9 },
  );
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string(),
        parts.map((found) => found.join('')),
      ),
      (text) => {
        for (const parse of [parseLength, parsePositiveLength, parsePitch, parseAngle]) {
          const parsed = parse(text);
          if (!parsed.ok) expect(parsed.accepted).not.toBe('');
          else
            expect(
              Number.isFinite(typeof parsed.value === 'number' ? parsed.value : parsed.value.length),
            ).toBe(true);
        }
      },
    ),
  );
});
