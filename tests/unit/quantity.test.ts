// Quantities as people type them: what is read, and what is refused by name with what is accepted instead.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
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

const through =
  <T>(parse: (text: string) => Parsed<T>, of: (value: T) => number) =>
  (text: string): Parsed<number> => {
    const parsed = parse(text);
    return parsed.ok ? { ok: true, value: of(parsed.value) } : parsed;
  };

/** Each quantity by name, as a number that people know where it is one. */
const READ = {
  length: parseLength,
  'bare inches': (text: string) => parseLength(text, 'in'),
  'length above zero': (text: string) => parsePositiveLength(text),
  'bare inches above zero': (text: string) => parsePositiveLength(text, 'in'),
  'length from zero': (text: string) => parseUnsignedLength(text),
  'bare millimetres from zero': (text: string) => parseUnsignedLength(text, 'mm'),
  pitch: parsePitch,
  angle: through(parseAngle, inDegrees),
  temperature: parseTemperature,
  humidity: through(parseHumidity, inPercent),
  moisture: parseMoisture,
  count: (text: string) => parseCount(text, 1, 4),
  side: parseWord(['bore', 'lid', 'body']),
  unit: parseUnit,
};

test.each<[keyof typeof READ, value: number | string | object, ...texts: string[]]>([
  ['length', 50, '50mm', '50 mm'],
  ['length', 50.5, ' 50.5MM '],
  ['length', 0.5, '.5mm'],
  ['length', 5, '5.mm'],
  ['length', -0.01, '-0.01mm'],
  ['length', 50.8, '2in', '2"'],
  ['length', 12.7, ' 1/2in '],
  ['length', 38.1, '1-1/2in', '1 1/2"'],
  ['length', 12.6875 * 25.4, '12-11/16 in'],
  ['length', 0, '0mm'],
  ['length', 1e9, '1000000000mm'],
  ['length', -1e9, '-1000000000mm'],
  ['length', 1e-9, '0.000000001mm'],
  ['length', -1e-9, '-0.000000001mm'],
  ['bare inches', 50.8, '2'],
  ['bare inches', 2, '2mm'],
  ['length above zero', 0.001, '0.001mm'],
  ['bare inches above zero', 25.4, '1'],
  ['length from zero', 0, '0mm'],
  ['bare millimetres from zero', 0.02, '0.02'],
  ['pitch', { length: 1.5875, given: { kind: 'tpi', threads: 16 } }, '16tpi'],
  ['pitch', { length: 1.5, given: { kind: 'metric' } }, '1.5mm'],
  ['pitch', { length: expect.closeTo(2.54, 12), given: { kind: 'metric' } }, '0.1in'],
  ['angle', 60, '60', '60deg', '60°', '60 degrees'],
  ['angle', (1.05 * 180) / Math.PI, '1.05rad'],
  ['temperature', 20, '68F', '20 °C'],
  ['temperature', -273, '-273C'],
  ['humidity', 45, '45%'],
  ['humidity', 0, '0%'],
  ['humidity', 100, '100%'],
  ['moisture', 8.5, '8.5%'],
  ['moisture', 0, '0%'],
  ['moisture', 30, '30%'],
  ['count', 1, '1'],
  ['count', 3, ' 3 '],
  ['count', 4, '4'],
  ['side', 'lid', ' LID '],
  ['unit', 'mm', 'mm'],
  ['unit', 'in', ' IN ', 'inch', 'inches', '"'],
])('a %s of %j is read from each way to type it', (what, value, ...texts) => {
  const read = typeof value === 'number' ? expect.closeTo(value, 9) : value;
  for (const text of texts) expect(READ[what](text)).toEqual({ ok: true, value: read });
});

// A size beyond any bench is refused; the bounds themselves and zero are read above.
const LENGTH = 'a number with mm or in, such as 50mm, 2.05in or 1-1/2in, with a point, not a comma';

test.each<[keyof typeof READ, accepted: string, ...texts: string[]]>([
  ['length', LENGTH, '50', 'about 1/2in', '1/2in or so', '5ft', '1,5mm', '1/0in', '1e3mm', '', '½in'],
  ['length', LENGTH, '1000000001mm', '-1000000001mm', '0.0000000009mm', '-0.0000000009mm', '9999999999/3in'],
  ['length above zero', 'a length above zero, such as 50mm or 2in', '0mm', '-1mm'],
  ['length above zero', LENGTH, '5'],
  ['length from zero', 'a length of zero or more, such as 0.02mm', '-0.01mm'],
  ['length from zero', LENGTH, 'wide'],
  ['bare inches', `${LENGTH} (bare: in)`, '2ft'],
  ['pitch', 'a pitch above zero, such as 16tpi or 1.5mm', '0tpi', '-16tpi', '16', '0mm', 'tpi', '1e-999mm'],
  ['angle', 'an angle such as 60deg or 1.05rad', '60mm'],
  ['temperature', 'a temperature such as 20C or 68F', '20', '-300C', '-273.15C', '-459.7F', '20K', 'C'],
  [
    'humidity',
    'a relative humidity from 0% to 100%, such as 45%',
    '400%',
    '100.1%',
    '-1%',
    '45',
    '45mm',
    '%',
  ],
  ['moisture', 'a moisture content from 0% to 30%, such as 8.5%', '31%', '-1%', '8.5', '8.5mm', '%'],
  ['count', 'a whole number from 1 to 4', '0', '5', '2.5', '-1', '1e0', ''],
  ['side', 'bore, lid or body', 'li'],
  ['unit', 'mm or in', '', 'cm', 'mmm'],
])('a %s is %s', (what, accepted, ...texts) => {
  for (const found of texts)
    expect(READ[what](found)).toEqual({ ok: false, kind: 'bad-quantity', found, accepted });
});

test('a refusal names the option, shows at most forty characters of what was found, and none that control', () => {
  const refused = (text: string) => {
    const parsed = parseAngle(text);
    return parsed.ok ? 'accepted' : refusal('--angle', parsed);
  };
  const end = "isn't accepted. Give an angle such as 60deg or 1.05rad.";
  expect(refused('5\u001b[31mft')).toBe(`--angle: "5?[31mft" ${end}`);
  expect(refused('x'.repeat(50))).toBe(`--angle: "${'x'.repeat(39)}…" ${end}`);
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
