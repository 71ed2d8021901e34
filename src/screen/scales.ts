// The scales of the two live drawings: where a diameter stands along the bar, and which heights the trace reaches over.

/** Shares of the bar's length: turning down, coming near, and beyond the target. */
const FAR = 0.35;
const TARGET = 0.8;
/** Millimetres on the diameter that the first part of the bar reaches over. */
const REACH = 5;

/**
 * The place on the bar of a diameter so much over its target (millimetres; below zero is under): the last half
 * millimetre takes more of it than all before, since that is where the eye is needed.
 */
export function placeOf(over: number, near: number, beyond: number): number {
  if (over >= near) return Math.max(0, FAR * (1 - (over - near) / (REACH - near)));
  if (over >= 0) return FAR + (TARGET - FAR) * (1 - over / near);
  return Math.min(1, TARGET + (1 - TARGET) * (-over / beyond));
}

/** The trace shows no more below the highest peak than this, so that the peaks can be told apart. */
const WINDOW = 0.6;
const MARGIN = 0.03;
/** Before any peak the last readings say where the jaws are. */
const RECENT = 24;

/**
 * The heights that the trace reaches over: from a little above the highest peak (or, before one, the highest of the
 * last readings) to no more than a window below it. What lies outside is drawn at the edge.
 */
export function rangeOf(heights: readonly number[], peaks: readonly number[]): { from: number; to: number } {
  const recent = heights.slice(-RECENT);
  const highest = Math.max(...(peaks.length > 0 ? peaks : recent));
  if (!Number.isFinite(highest)) return { from: 0, to: 1 };
  const lowest = Math.min(...heights.slice(-2 * RECENT));
  const from = Math.max(lowest, highest - WINDOW);
  return { from: Math.min(from, highest - 4 * MARGIN), to: highest + MARGIN };
}
