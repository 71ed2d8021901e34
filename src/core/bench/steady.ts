// Whether the jaws are held still: the last readings lie within two steps of each other for long enough.

import { medianOf } from '../statistics.ts';
import { type Length, mm } from '../units.ts';
import type { KeptReading } from './entry.ts';

/** What makes a value held rather than moving; our own choice. */
export const STILL = { readings: 3, steps: 2, forMs: 200 } as const;

export interface HeldStill {
  readonly value: Length;
  readonly readings: readonly KeptReading[];
}

/**
 * The value held still at the end of these readings (oldest first), or undefined while it moves.
 * A typed value (no raw line) is held by definition. The value is the median of the still readings.
 */
export function steadyOf(heard: readonly KeptReading[]): HeldStill | undefined {
  const last = heard.at(-1);
  if (!last) return undefined;
  if (last.raw === '') return { value: last.value, readings: [last] };
  const still: KeptReading[] = [];
  for (const reading of heard.toReversed()) {
    const near = Math.abs(reading.value - last.value) <= STILL.steps * last.step * (1 + 1e-9);
    if (!near || reading.raw === '') break;
    still.unshift(reading);
  }
  const held = last.at - (still[0]?.at ?? last.at);
  if (still.length < STILL.readings || held < STILL.forMs) return undefined;
  return { value: mm(medianOf(still.map((reading) => reading.value))), readings: still };
}
