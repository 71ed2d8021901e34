// Quantities as text that can be typed back: what a form shows and reads again.
import type { Pitch } from '../quantity.ts';
import { inInches, type Length, type LengthUnit, MM_PER_INCH } from '../units.ts';

const plain = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));

/** A length in the unit, to a micrometre or its like. */
export const lengthText = (value: Length, unit: LengthUnit): string =>
  unit === 'mm' ? `${plain(value, 3)}mm` : `${plain(inInches(value), 4)}in`;

/** A pitch as it was given: 16tpi stays 16tpi. */
export const pitchText = (pitch: Pitch): string =>
  pitch.given.kind === 'tpi' ? `${plain(MM_PER_INCH / pitch.length, 4)}tpi` : `${plain(pitch.length, 4)}mm`;
