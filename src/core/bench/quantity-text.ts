// Quantities as text that can be typed back: what a form shows and reads again.
import { type Pitch, parseHumidity } from '../quantity.ts';
import { inInches, inPercent, type Length, type LengthUnit, MM_PER_INCH } from '../units.ts';

import type { SeasonWanted } from './setup.ts';

const plain = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));

/** A length in the unit, to a micrometre or its like. */
export const lengthText = (value: Length, unit: LengthUnit): string =>
  unit === 'mm' ? `${plain(value, 3)}mm` : `${plain(inInches(value), 4)}in`;

/** A pitch as it was given: 16tpi stays 16tpi. */
export const pitchText = (pitch: Pitch): string =>
  pitch.given.kind === 'tpi' ? `${plain(MM_PER_INCH / pitch.length, 4)}tpi` : `${plain(pitch.length, 4)}mm`;

/** A range of room humidity, drier end first, as text and back; null for anything else. */
export const seasonText = ({ from, to }: SeasonWanted): string =>
  `${plain(inPercent(from), 1)}%-${plain(inPercent(to), 1)}%`;

export function seasonIn(text: string): SeasonWanted | null {
  const [from, to, ...more] = text.split('-').map((part) => parseHumidity(part));
  if (!from?.ok || !to?.ok || more.length > 0 || from.value >= to.value) return null;
  return { from: from.value, to: to.value };
}
