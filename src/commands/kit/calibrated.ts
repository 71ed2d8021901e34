// What a calibration found, in words and as JSON.
import type { Pitch } from '../../core/quantity.ts';
import type { Calibration, CalibrationRefusal } from '../../core/thread/calibrate.ts';
import { inUnit, type Length, type LengthUnit, mm } from '../../core/units.ts';

/** What was found, and what has to be kept with it. */
export interface Found {
  readonly made: Calibration | CalibrationRefusal;
  readonly taken: string;
  /** Set where a pair proved its detents at its pitch. */
  readonly proven?: { readonly pitch: Pitch; readonly detents: number };
  readonly detents: number;
}

export type Calibrated = Found & { readonly made: Calibration };

/** Decimals that show an interval of this half-width to two figures. */
const decimalsFor = (half: number): number =>
  half > 0 ? Math.min(Math.max(1 - Math.floor(Math.log10(half)), 0), 9) : 6;

/** For a person, in the unit they count in; nothing finer than its doubt. */
export function calibratedLines({ made, detents, taken }: Calibrated, unit: LengthUnit): readonly string[] {
  const half = mm(made.doubt.expanded95);
  const places = decimalsFor(inUnit(half, unit));
  const depth = mm(half * detents);
  const say = (value: Length, decimals: number): string => `${inUnit(value, unit).toFixed(decimals)} ${unit}`;
  const [most] = made.doubt.shares;
  const largest = most
    ? ` The largest part of that doubt: ${most.name}, ${Math.round(100 * most.share)} %.`
    : '';
  return [
    `One detent is ${say(made.perDetent, places)}, give or take ${say(half, places)} at 95 %.`,
    `Over ${detents} detents that is ${say(depth, decimalsFor(inUnit(depth, unit)))} of depth, and twice as much of clearance.${largest}`,
    `Reckoned ${taken}.`,
  ];
}

/** One object a line, lengths in millimetres. */
export const calibratedJson = ({ made, detents }: Calibrated): string =>
  JSON.stringify({
    kind: 'calibration',
    v: 1,
    perDetentMm: made.perDetent,
    standardMm: made.doubt.standard,
    expanded95Mm: made.doubt.expanded95,
    degreesOfFreedom: Number.isFinite(made.doubt.degreesOfFreedom) ? made.doubt.degreesOfFreedom : 'infinite',
    detents,
    shares: made.doubt.shares,
  });
