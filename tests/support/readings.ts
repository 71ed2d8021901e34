// Readings as a caliper shows them, and captures made of them.
import { addReading, type Capture, finishCapture, startCapture } from '../../src/core/measure/capture.ts';
import { type CaptureSettings, defaultSettings, type Side } from '../../src/core/measure/capture-settings.ts';
import type { Reading } from '../../src/core/measure/reading.ts';
import { degrees, type LengthUnit, length, millis, mm } from '../../src/core/units.ts';

/** What one step is worth, in the unit shown. */
const STEPS = { mm: 0.01, in: 0.0005 } as const;

/** A size in millimetres that a caliper in steps of 0.01 mm, or of 0.0005 in, sends as it is. */
export const readingOf = (size: number, at = 0, unit: LengthUnit = 'mm'): Reading => ({
  value: mm(size),
  unit,
  step: length(STEPS[unit], unit),
  text: String(size),
  at: millis(at),
});

/** The same, rounded to what the caliper shows. */
export function shownAs(size: number, at = 0, unit: LengthUnit = 'mm'): Reading {
  const step = length(STEPS[unit], unit);
  return { ...readingOf(size, at, unit), value: length(Math.round(size / step) / (1 / STEPS[unit]), unit) };
}

/** The span of jaws this far off the diameter of a bore: a chord of it. */
export const chordOf = (diameter: number, off: number): number => Math.sqrt(diameter ** 2 - 4 * off ** 2);

/** What jaws span on this many rocks across a bore, to and fro through its diameter; `scale` is what a millimetre is worth. */
export function rocked(diameter: number, rocks: number, scale = 1): readonly number[] {
  const swing = Array.from({ length: 17 }, (_, at) => chordOf(diameter, ((at - 8) * 0.45 + 0.1) * scale));
  return Array.from({ length: rocks }, (_, rock) => (rock % 2 ? swing.toReversed() : swing)).flat();
}

/** How strict a capture is where the caliper isn't tilted. */
export const untilted = (side: Side = 'bore'): CaptureSettings => ({
  ...defaultSettings(side),
  tiltHalfRange: degrees(0),
});

/** A capture of these readings, ended. */
export const captured = (readings: readonly Reading[], settings = untilted()): Capture =>
  finishCapture(readings.reduce(addReading, startCapture(settings)));
