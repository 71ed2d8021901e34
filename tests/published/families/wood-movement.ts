// Wood that moves: the Handbook's worked example, its two forms beside each other, and where they hold.
import { inches, inInches, type Length, mm, moisture } from '../../../src/core/units.ts';
import {
  COEFFICIENTS_HOLD,
  changeByCoefficient,
  changeByShrinkage,
  changeOf,
  coefficientOf,
  FIBRE_SATURATION,
  type Swell,
  swellOf,
} from '../../../src/core/wood/movement.ts';
import { findWood } from '../../../src/core/wood/woods.ts';
import type { Check } from '../check.ts';
import { figure, group, type Row, sourceOf, statusOf } from '../source.ts';

export const count = 14;
export const groups = ['2e_formulas'];
export const leftOut = {
  '2e_formulas/worked example (flatsawn board, CT 0.00245 white fir)/DI_mm': 'given, not found',
};

function rowCalled(start: string): Row {
  const found = group('2e_formulas').find(({ id }) => id.startsWith(start));
  if (!found) throw new Error(`2e_formulas has no row that begins with ${start}`);
  return found;
}

const withC = (coefficient: number): Swell =>
  swellOf({ coefficient }) ?? { coefficient, shrinkage: Number.NaN };
const of = (row: Row, key: string) => ({
  source: sourceOf(row),
  status: statusOf(row),
  truth: `2e_formulas/${row.id}/${key}`,
});

function validity(): readonly Check[] {
  const row = rowCalled('validity');
  const [least, most] = Array.isArray(row.values.MC_range_pct) ? row.values.MC_range_pct : [];
  const exactly = { allowed: 0, why: 'a bound' };
  return [
    {
      ...of(row, 'MC_range_pct'),
      ...exactly,
      what: 'coefficients hold from [%]',
      expected: Number(least),
      ours: COEFFICIENTS_HOLD.least,
    },
    {
      ...of(row, 'MC_range_pct'),
      ...exactly,
      what: 'coefficients hold to [%]',
      expected: Number(most),
      ours: COEFFICIENTS_HOLD.most,
    },
    {
      ...of(row, 'FSP_pct'),
      ...exactly,
      what: 'shrinkage starts at [%]',
      expected: figure(row, 'FSP_pct'),
      ours: FIBRE_SATURATION,
    },
  ];
}

function workedExample(): readonly Check[] {
  const row = rowCalled('worked example');
  const fir = withC(0.00245);
  const change = (size: Length): Length => changeOf(size, fir, moisture(8), moisture(11));
  const [metric, imperial] = [mm(figure(row, 'DI_mm')), inches(9.15)];
  const tenth = { allowed: 0.05 + 1e-9, why: 'one decimal' };
  const thousandth = { allowed: 0.0005 + 1e-9, why: 'three decimals' };
  return [
    {
      ...of(row, 'DD_mm'),
      ...tenth,
      what: 'flatsawn white fir 232 mm, 8 to 11 %: gain [mm]',
      expected: figure(row, 'DD_mm'),
      ours: change(metric),
    },
    {
      ...of(row, 'final_mm'),
      ...tenth,
      what: 'the same: final width [mm]',
      expected: figure(row, 'final_mm'),
      ours: metric + change(metric),
    },
    {
      ...of(row, 'DD_in'),
      ...thousandth,
      what: 'the same, 9.15 in: gain [in]',
      expected: figure(row, 'DD_in'),
      ours: inInches(change(imperial)),
    },
    {
      ...of(row, 'final_in'),
      ...thousandth,
      what: 'the same: final width [in]',
      expected: figure(row, 'final_in'),
      ours: inInches(mm(imperial + change(imperial))),
    },
  ];
}

function whiteFir(): readonly Check[] {
  const row = rowCalled('white fir');
  return (['C_R', 'C_T'] as const).map((key) => ({
    ...of(row, key),
    what: `white fir, ${key} from ${key === 'C_R' ? 3.3 : 7} %`,
    expected: figure(row, key),
    ours: coefficientOf(key === 'C_R' ? 3.3 : 7),
    allowed: 5e-6 + 1e-12,
    why: 'five decimals',
  }));
}

function bothForms(): readonly Check[] {
  const row = rowCalled('13-2 vs 13-3');
  const maple = withC(0.00353);
  const green = swellOf({ shrinkage: 9.9 }) ?? maple;
  const [size, from, to] = [mm(50), moisture(7), moisture(11)];
  return [
    {
      ...of(row, 'eq13-2_mm'),
      what: 'sugar maple 50 mm T, 7 to 11 %, Eq. 13-2 [mm]',
      expected: figure(row, 'eq13-2_mm'),
      ours: changeByCoefficient(size, maple, from, to),
      allowed: 0.0005,
      why: 'three decimals',
    },
    {
      ...of(row, 'eq13-3_mm'),
      what: 'the same by Eq. 13-3 [mm]',
      expected: figure(row, 'eq13-3_mm'),
      ours: changeByShrinkage(size, green, from, to),
      allowed: 0.00005 + 1e-9,
      why: 'four decimals',
    },
  ];
}

/** Eq. 4-9, shrinkage to a moisture x: S0 (1 - x/30), of the green size. */
function partShrinkage(): readonly Check[] {
  const row = rowCalled('Eq 4-9');
  const found = findWood('maple sugar');
  const maple = found.kind === 'found' ? found.wood.figures[0]?.tangential : undefined;
  return [0, 6, 12].map((x) => ({
    source: sourceOf(row),
    status: 'DERIVED',
    what: `sugar maple T, green to ${x} %, of 100 mm [mm]`,
    expected: 9.9 * (1 - x / 30),
    ours: maple ? -changeByShrinkage(mm(100), maple, FIBRE_SATURATION, moisture(x)) : Number.NaN,
    allowed: 1e-9,
    why: 'the same straight line',
  }));
}

export const rows = (): readonly Check[] => [
  ...validity(),
  ...workedExample(),
  ...whiteFir(),
  ...bothForms(),
  ...partShrinkage(),
];
