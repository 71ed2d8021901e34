// Quantities that only a plan is asked with: turning speeds, numbers of turns, and a rod.

import { ROD_MATERIALS, type Rod, type TurnsPerMinute, turnsPerMinute } from '../core/plan/speeds.ts';
import { type Parsed, parsePositiveLength } from '../core/quantity.ts';

const refuse = (found: string, accepted: string): Parsed<never> => ({
  ok: false,
  kind: 'bad-quantity',
  found,
  accepted,
});

const decimal = (text: string): number | undefined =>
  /^\d+(?:\.\d*)?$|^\.\d+$/.test(text) ? Number(text) : undefined;

/** `3000` or `3000rpm`, above zero and to a million. */
export function parseSpeed(text: string): Parsed<TurnsPerMinute> {
  const value = decimal(text.trim().replace(/\s*(rpm|\/min)$/i, ''));
  return value !== undefined && value > 0 && value <= 1e6
    ? { ok: true, value: turnsPerMinute(value) }
    : refuse(text, 'turns a minute above zero, such as 3000 or 3000rpm');
}

/** `2.5`: turns of the lid from first hold to closed, above zero and to a hundred. */
export function parseTurns(text: string): Parsed<number> {
  const value = decimal(text.trim());
  return value !== undefined && value > 0 && value <= 100
    ? { ok: true, value }
    : refuse(text, 'a number of turns above zero, such as 2 or 1.5');
}

/** `8mm,150mm` or `8mm,150mm,brass`: diameter, length standing out, and material (steel). */
export function parseRod(text: string): Parsed<Rod> {
  const [thick = '', long = '', of = 'steel', ...rest] = text.split(',').map((part) => part.trim());
  const [diameter, length] = [parsePositiveLength(thick), parsePositiveLength(long)];
  const material = Object.entries(ROD_MATERIALS).find(([name]) => name === of.toLowerCase())?.[1];
  if (!diameter.ok || !length.ok || !material || rest.length > 0) {
    const materials = Object.keys(ROD_MATERIALS).join(', ');
    return refuse(
      text,
      `its diameter, the length standing out, and of what (${materials}), such as 8mm,150mm,steel`,
    );
  }
  return { ok: true, value: { diameter: diameter.value, length: length.value, material } };
}
