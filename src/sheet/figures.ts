// Figures on paper: a caliper's decimals, the unit named once beside them.
import { inUnit, type Length, type LengthUnit } from '../core/units.ts';

const DECIMALS: { readonly [unit in LengthUnit]: number } = { mm: 2, in: 4 };

/** A length as a caliper would show it; a minus of nothing is no minus. */
export function figure(value: Length, unit: LengthUnit): string {
  const shown = inUnit(value, unit).toFixed(DECIMALS[unit]);
  return Number(shown) === 0 ? shown.replace('-', '') : shown;
}

export const withUnit = (value: Length, unit: LengthUnit): string => `${figure(value, unit)} ${unit}`;
