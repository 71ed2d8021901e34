// NIST StRD univariate: certified means and deviations through our own update, counted in digits kept.
import { spreadOf } from '../../../src/core/statistics.ts';
import type { Check } from '../check.ts';
import { figure, group, type Row, sourceOf } from '../source.ts';

export const groups = ['5a_nist', '5b_robust'];
export const count = 10;

/** The sets that are a rule: a first value, then two values in turn. */
const RULES: Readonly<Record<string, readonly [number, number, number]>> = {
  NumAcc2: [1.2, 1.1, 1.3],
  NumAcc3: [1000000.2, 1000000.1, 1000000.3],
  NumAcc4: [10000000.2, 10000000.1, 10000000.3],
};

/** How close a deviation of binary fractions can come: a set near 1e7 holds its tenths to 2e-9 only. */
const ALLOWED: Readonly<Record<string, number>> = { NumAcc3: 1e-8, NumAcc4: 1e-7 };

function dataOf(row: Row): readonly number[] | undefined {
  const rule = RULES[row.id];
  if (rule)
    return Array.from({ length: figure(row, 'n') }, (_, at) => rule[at === 0 ? 0 : at % 2 === 1 ? 1 : 2]);
  return Array.isArray(row.values.data) ? row.values.data : undefined;
}

export const leftOut = {
  ...Object.fromEntries(
    group('5b_robust').map((row) => [`5b_robust/${row.id}`, 'the program uses no median deviation']),
  ),
  '5a_nist/Michelso/lag1': 'the program uses no autocorrelation',
  '5a_nist/Lew': 'the data are not in the file',
  '5a_nist/Mavro': 'the data are not in the file',
  '5a_nist/Michelso/n': 'the size of the set',
  '5a_nist/Michelso/data': 'the set itself',
  '5a_nist/NumAcc1/data': 'the set itself',
  ...Object.fromEntries(
    Object.keys(RULES).flatMap((id) => [
      [`5a_nist/${id}/rule`, 'the set itself'],
      [`5a_nist/${id}/n`, 'the size of the set'],
    ]),
  ),
};

const checks = (row: Row): readonly Check[] => {
  const data = dataOf(row);
  if (!data) return [];
  const ours = spreadOf(data);
  const of = {
    source: `${sourceOf(row)}, ${row.id}`,
    why: 'what the last binary digits of the data leave; a sum of squares would return 0 for NumAcc4',
  };
  const recalled = row.id in RULES ? 'MEMORY' : 'READ';
  return [
    {
      ...of,
      what: `${row.id} mean`,
      status: 'READ',
      expected: figure(row, 'mean'),
      ours: ours.mean,
      allowed: 1e-12 * figure(row, 'mean'),
      truth: `5a_nist/${row.id}/mean`,
    },
    {
      ...of,
      what: `${row.id} standard deviation`,
      status: recalled,
      expected: figure(row, 'sd'),
      ours: ours.deviation,
      allowed: ALLOWED[row.id] ?? 1e-12,
      truth: `5a_nist/${row.id}/sd`,
    },
  ];
};

export const rows = (): readonly Check[] => group('5a_nist').flatMap(checks);
