// Rocking: from a caliper's readings to a true diameter, or to why not. What the rest of the program may use of it.
import type { Reading } from './reading.ts';
import type { Capture } from './rocking-capture.ts';
import type { ShownTop } from './rocking-verdict.ts';
import { between } from './series.ts';

export { addReading, type Capture, finishCapture, startCapture } from './rocking-capture.ts';
export { verdictOf } from './rocking-judgement.ts';
export { type CaptureSettings, defaultSettings, type Side } from './rocking-settings.ts';
export type {
  Advice,
  Agreed,
  Doubt,
  Doubtful,
  Rocking,
  ShownTop,
  Verdict,
} from './rocking-verdict.ts';

/** Every top found so far, in order of time, and whether it is among those that agree. */
export function topsOf(capture: Capture): readonly ShownTop[] {
  const agreeing = new Set(capture.found.agreement?.agreeing ?? []);
  return between(capture.found.tops, 0).map((top) => ({
    at: top.at,
    value: top.value,
    agrees: agreeing.has(top),
    from: top.from,
  }));
}

/** Every reading, as received and in order, also those thrown out. */
export const readingsOf = (capture: Capture): readonly Reading[] => between(capture.readings, 0);

/** The last `count` readings, oldest first. */
export const recentReadings = (capture: Capture, count: number): readonly Reading[] =>
  between(capture.readings, capture.readings.length - count);

/** Places, in `readingsOf`, of the readings that no hand could have made. */
export const thrownOut = (capture: Capture): readonly number[] =>
  [...new Set([...between(capture.thrown, 0), ...between(capture.found.thrown, 0)])].sort((a, b) => a - b);
