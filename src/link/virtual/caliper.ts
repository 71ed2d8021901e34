// The simulated caliper: a jaw opening becomes the digits of its display.
import { inInches, type LengthUnit, mm } from '../../core/units.ts';

/** Milliseconds from one frame to the next: eight a second, as many calipers send (common practice, no source). */
export const FRAME = 125;

/** One step of the display, in its own unit. */
const STEP: { readonly [unit in LengthUnit]: number } = { mm: 0.01, in: 0.0005 };
const DECIMALS: { readonly [unit in LengthUnit]: number } = { mm: 2, in: 4 };

/** The display's digits for an opening in millimetres, rounded to whole steps as the caliper itself does. */
export function display(opening: number, unit: LengthUnit): string {
  const value = unit === 'mm' ? opening : inInches(mm(opening));
  const steps = Math.round(value / STEP[unit]);
  return (steps * STEP[unit]).toFixed(DECIMALS[unit]).replace(/^-(0\.0+)$/, '$1');
}
