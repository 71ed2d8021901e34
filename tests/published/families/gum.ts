// JCGM 100:2008: the end gauge of H.1 through our own budget, and the rules for rectangles and steps.
import { coverageFactor } from '../../../src/core/measure/student.ts';
import { type Combined, combine, rectangular, resolution } from '../../../src/core/measure/uncertainty.ts';
import type { Check, Status } from '../check.ts';
import { group, type Row, sourceOf } from '../source.ts';

export const groups = ['3a_gum'];
export const count = 7;

const named = (id: string): Row => {
  const row = group('3a_gum').find((one) => one.id === id);
  if (!row) throw new Error(`no row ${id}`);
  return row;
};
const gauge = named('H.1 end gauge');
const rules = named('rectangular a/sqrt(3); width q: q/sqrt(12)');
const step = named('resolution 0.01 mm -> u = 0.0029 mm');

function endGauge(): Combined {
  const inputs = gauge.values.inputs_nm_and_dof as Readonly<Record<string, readonly [number, number]>>;
  return combine(
    Object.entries(inputs).map(([name, [standard, degreesOfFreedom]]) => ({
      name,
      standard,
      sensitivity: 1,
      degreesOfFreedom,
    })),
  );
}

const row = (
  from: Row,
  key: string,
  status: Status,
  ours: number,
  allowed: number,
  why: string,
  printed?: number,
): Check => ({
  ...(printed === undefined ? {} : { printed }),
  what: `${from.id}: ${key}`,
  source: sourceOf(from),
  status,
  expected: Number(from.values[key]),
  ours,
  allowed,
  why,
  truth: `3a_gum/${from.id}/${key}`,
});

export const leftOut = {
  '3a_gum/H.1 end gauge/inputs_nm_and_dof': 'the inputs of the rows above',
  '3a_gum/H.1 end gauge/l_nm': 'the length itself needs the comparison readings, which are not in the file',
  '3a_gum/second-order value': 'the budget of a clearance is linear: it has no second-order terms to compare',
  '3a_gum/Table E.1 n=30 -> sd of s(mean) about 13 %': 'the program shows no uncertainty of an uncertainty',
  '3a_gum/arcsine a/sqrt2, triangular a/sqrt6': 'no contribution of the program has either shape',
  '3a_gum/t_0.95 nu=5': 'compared in student',
  '3a_gum/t_0.95 nu=10': 'compared in student',
  '3a_gum/t_0.95 nu=16': 'compared in student',
  '3a_gum/t_0.99 nu=16': 'compared in student',
  '3a_gum/t_0.9545 nu=10': 'compared in student',
  '3a_gum/t_0.95 nu=29': 'compared in student',
};

export function rows(): readonly Check[] {
  const combined = endGauge();
  const whole = Math.floor(combined.degreesOfFreedom);
  const t99 = coverageFactor(0.99, whole);
  return [
    row(gauge, 'uc_nm', 'READ', combined.standard, 0.5, 'printed in whole nanometres: 31.7 before rounding'),
    row(
      gauge,
      'nu_eff',
      'MEMORY',
      whole,
      0,
      'the example cuts off to a whole number; ours keeps the fraction, 16.7',
    ),
    row(gauge, 't99', 'MEMORY', t99, 0.005, 'half of the last printed digit'),
    row(
      gauge,
      'U99_nm',
      'MEMORY',
      t99 * combined.standard,
      1,
      'the example multiplies 2.92 by 32 and rounds; unrounded it is 92.5',
      0.5,
    ),
    row(rules, '1/sqrt3', 'MEMORY', rectangular(1), 5e-6, 'half of the last printed digit'),
    row(rules, '1/sqrt12', 'MEMORY', resolution(1), 5e-7, 'half of the last printed digit'),
    row(step, 'u_mm', 'MEMORY', resolution(0.01), 0.00005, 'half of the last printed digit'),
  ];
}
