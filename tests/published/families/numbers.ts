// Uncertainty, Student's t, means and spreads, and the checksum of the line.

import { combine, rectangular, resolution } from '../../../src/core/measure/uncertainty.ts';
import { coverageFactor, normalShare, spreadOf } from '../../../src/core/statistics.ts';
import { crc16OfText } from '../../../src/wire/crc.ts';
import type { Check } from '../check.ts';
import {
  compare,
  family,
  figure,
  group,
  type Ours,
  type Row,
  rowCalled,
  sourceOf,
  stating,
  without,
} from '../source.ts';

/** JCGM 100, H.1: the end gauge through our own budget. */
const gaugeInputs = rowCalled('3a_gum', 'H.1 end gauge').values.inputs_nm_and_dof as Readonly<
  Record<string, readonly [number, number]>
>;
const gauge = combine(
  Object.entries(gaugeInputs).map(([name, [standard, degreesOfFreedom]]) => ({
    ...{ name, standard, degreesOfFreedom, sensitivity: 1 },
  })),
);
const whole = Math.floor(gauge.degreesOfFreedom);
const t99 = coverageFactor(0.99, whole);

const UNCERTAINTY: Readonly<Record<string, Ours>> = {
  uc_nm: {
    status: 'READ',
    ours: gauge.standard,
    allowed: 0.5,
    why: 'printed in whole nanometres: 31.7 before rounding',
  },
  nu_eff: {
    status: 'MEMORY',
    ours: whole,
    allowed: 0,
    why: 'the example cuts off to a whole number; ours keeps the fraction, 16.7',
  },
  t99: { status: 'MEMORY', ours: t99, allowed: 0.005 },
  U99_nm: {
    status: 'MEMORY',
    ours: t99 * gauge.standard,
    allowed: 1,
    why: 'the example multiplies 2.92 by 32 and rounds; unrounded it is 92.5',
  },
  '1/sqrt3': { ours: rectangular(1), allowed: 5e-6 },
  '1/sqrt12': { ours: resolution(1), allowed: 5e-7 },
  u_mm: { ours: resolution(0.01), allowed: 0.00005 },
};

const PRINTED_T = /^t_(0\.\d+) nu=(\d+)$/;
const tRows = group('3a_gum').filter(({ id }) => PRINTED_T.test(id));

const gum = family('gum', {
  count: 7,
  groups: ['3a_gum'],
  leftOut: {
    '3a_gum/H.1 end gauge/inputs_nm_and_dof': 'the inputs of the rows above',
    '3a_gum/H.1 end gauge/l_nm': 'the length itself needs the comparison readings, which are not in the file',
    '3a_gum/second-order value':
      'the budget of a clearance is linear: it has no second-order terms to compare',
    '3a_gum/Table E.1 n=30 -> sd of s(mean) about 13 %': 'the program shows no uncertainty of an uncertainty',
    '3a_gum/arcsine a/sqrt2, triangular a/sqrt6': 'no contribution of the program has either shape',
    ...without(tRows, 'compared in student'),
  },
  ours: (_, key) => UNCERTAINTY[key],
});

function tabled(row: Row): Check {
  const [, share, degrees] = PRINTED_T.exec(row.id) ?? [];
  return compare(row, 't', {
    what: `t for ${share} and ${degrees} degrees of freedom`,
    ours: coverageFactor(Number(share), Number(degrees)),
  });
}

const closed = stating('closed form of the distribution for 1 and 2 degrees of freedom', 'DERIVED');

/** t for 1 degree of freedom is tan(pi p / 2); for 2 it is 2 a sqrt(2 / (4 u (1-u))) with a = u - 1/2. */
function closedForm(share: number, degrees: 1 | 2): Check {
  const upper = (1 + share) / 2;
  const two = 2 * (upper - 0.5) * Math.sqrt(2 / (4 * upper * (1 - upper)));
  const expected = degrees === 1 ? Math.tan((Math.PI * share) / 2) : two;
  const what = `t for ${share} and ${degrees} degree${degrees === 1 ? '' : 's'} of freedom`;
  return closed(
    what,
    expected,
    coverageFactor(share, degrees),
    1e-7,
    'what the library was measured to keep',
  );
}

const endless = coverageFactor(0.95, Number.POSITIVE_INFINITY);
const normal = stating('JCGM 100 Table G.1 and G.2, last row', 'MEMORY');
const shareWithin = (deviations: number): number => normalShare(deviations) - normalShare(-deviations);
const firstTerm = 'the first term of the difference, (z + z^3) / (4 nu)';
const giveWay = 't for 0.95 where the library gives way to the normal';

/** JCGM 100 Table G.2 and others: the library's Student's t before it is trusted. */
const student = family('student', {
  count: 13,
  more: () => [
    ...tRows.map(tabled),
    closedForm(0.95, 1),
    closedForm(0.95, 2),
    closedForm(0.99, 2),
    normal('t for 0.95 without limit', 1.96, endless, 0.005),
    normal(giveWay, endless, coverageFactor(0.95, 1e6), 3e-6, firstTerm),
    normal('share within 1 standard deviation', 0.6827, shareWithin(1), 0.00005),
    normal('share within 2 standard deviations', 0.9545, shareWithin(2), 0.00005),
  ],
});

/** The NIST sets that are a rule: a first value, then two values in turn. */
const RULES: Readonly<Record<string, readonly [number, number, number]>> = {
  NumAcc2: [1.2, 1.1, 1.3],
  NumAcc3: [1000000.2, 1000000.1, 1000000.3],
  NumAcc4: [10000000.2, 10000000.1, 10000000.3],
};

/** How close a deviation of binary fractions can come: a set near 1e7 holds its tenths to 2e-9 only. */
const DEVIATION_KEPT: Readonly<Record<string, number>> = { NumAcc3: 1e-8, NumAcc4: 1e-7 };

function dataOf(row: Row): readonly number[] {
  const rule = RULES[row.id];
  if (rule)
    return Array.from({ length: figure(row, 'n') }, (_, at) => rule[at === 0 ? 0 : at % 2 === 1 ? 1 : 2]);
  return Array.isArray(row.values.data) ? row.values.data : [];
}

const nist = family('nist', {
  count: 10,
  groups: ['5a_nist', '5b_robust'],
  leftOut: {
    ...without(group('5b_robust'), 'the program uses no median deviation'),
    '5a_nist/Michelso/lag1': 'the program uses no autocorrelation',
    ...without(
      group('5a_nist').filter(({ id }) => ['Lew', 'Mavro'].includes(id)),
      'the data are not in the file',
    ),
    ...Object.fromEntries(
      group('5a_nist').flatMap(({ id, values }) =>
        ['n', 'data', 'rule']
          .filter((key) => key in values)
          .map((key) => [`5a_nist/${id}/${key}`, 'the set itself']),
      ),
    ),
  },
  ours: (row, key) => {
    const { mean, deviation } = spreadOf(dataOf(row));
    const of = {
      source: `${sourceOf(row)}, ${row.id}`,
      why: 'what the last binary digits of the data leave; a sum of squares would return 0 for NumAcc4',
    };
    if (key === 'mean')
      return { ...of, what: `${row.id} mean`, ours: mean, allowed: 1e-12 * figure(row, key) };
    return {
      ...of,
      what: `${row.id} standard deviation`,
      status: row.id in RULES ? 'MEMORY' : 'READ',
      ours: deviation,
      allowed: DEVIATION_KEPT[row.id] ?? 1e-12,
    };
  },
});

const OUR_CRC = 'CRC-16/IBM-3740 (CCITT-FALSE)';
const upper = (value: number): string => value.toString(16).toUpperCase().padStart(4, '0');
const crcOfHex = (hex: string): string => upper(crc16OfText(Buffer.from(hex, 'hex').toString('latin1')));
const exactly = 'a checksum agrees or does not';

const crc = family('crc', {
  count: 5,
  groups: ['5c_crc'],
  leftOut: {
    ...without(
      group('5c_crc').filter(({ id }) => id !== OUR_CRC && !id.startsWith('codeword IBM-3740')),
      'another CRC than the one on the line',
    ),
    ...Object.fromEntries(
      ['width', 'poly', 'init', 'refin', 'refout', 'xorout'].map((key) => [
        `5c_crc/${OUR_CRC}/${key}`,
        'a parameter; the check value and three codewords stand for it',
      ]),
    ),
  },
  ours: (row, key) => {
    if (key === 'check')
      return {
        what: 'check value of 123456789',
        expected: upper(Number(row.values.check)),
        ours: upper(crc16OfText('123456789')),
        why: exactly,
      };
    // A codeword is its bytes with the checksum of all but the last two behind them.
    const text = String(row.values.codeword);
    return { what: row.id, expected: text.slice(-4), ours: crcOfHex(text.slice(0, -4)), why: exactly };
  },
  more: () => [
    stating('property of every CRC without reflection or final xor', 'DERIVED')(
      'a codeword with its checksum behind it divides without rest',
      '0000',
      crcOfHex('31323334353637383929B1'),
      undefined,
      exactly,
    ),
  ],
});

export const NUMBERS = [crc, gum, nist, student];
