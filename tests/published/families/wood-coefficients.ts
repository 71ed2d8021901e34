// Every coefficient of the Handbook's Table 13-5, from the shrinkage of the same wood in its Table 4-3.
import { coefficientOf } from '../../../src/core/wood/movement.ts';
import type { Check } from '../check.ts';
import { figure, group, type Row, sourceOf, statusOf } from '../source.ts';

export const count = 46;
export const groups = ['2d_coefficients_table13_5'];
const commercial = 'a mean over a group of oaks, for which no shrinkage is printed';
export const leftOut = {
  '2d_coefficients_table13_5/Red oak, commercial': commercial,
  '2d_coefficients_table13_5/White oak, commercial': commercial,
};

const whiteAsh = "the table prints the white ash group's value for green ash";
const yellowBirch = "the table prints yellow birch's value for sweet birch, one line for both";
const wingedElm = "the table prints the value of winged elm's shrinkage for cedar elm";
const sugarMaple = "the table prints sugar maple's value for black maple, one line for both";
/** The group values, by name: none may be missing, and none may come to agree unseen. */
const GROUP_VALUES: Readonly<Record<string, string>> = {
  'Ash, green C_R': whiteAsh,
  'Ash, green C_T': whiteAsh,
  'Birch, sweet C_R': yellowBirch,
  'Birch, sweet C_T': yellowBirch,
  'Elm, cedar C_R': wingedElm,
  'Elm, cedar C_T': wingedElm,
  'Maple, black C_T': sugarMaple,
};

function check(row: Row, shrinkage: Row, direction: 'R' | 'T'): Check {
  const key = `C_${direction}`;
  const knownMiss = GROUP_VALUES[`${row.id} ${key}`];
  return {
    what: `${row.id}, ${key} from S_${direction} ${figure(shrinkage, `S_${direction}`)} % (${statusOf(shrinkage)})`,
    source: sourceOf(row),
    status: statusOf(row),
    expected: figure(row, key),
    ours: coefficientOf(figure(shrinkage, `S_${direction}`)),
    allowed: 5e-6 + 1e-12,
    why: 'five decimals',
    truth: `2d_coefficients_table13_5/${row.id}/${key}`,
    ...(knownMiss !== undefined && { knownMiss }),
  };
}

export const rows = (): readonly Check[] =>
  group('2d_coefficients_table13_5').flatMap((row) => {
    const shrinkage = group('2c_shrinkage_table4_3').find(({ id }) => id === row.id);
    return shrinkage ? [check(row, shrinkage, 'R'), check(row, shrinkage, 'T')] : [];
  });
