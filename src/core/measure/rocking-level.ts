// The level that agreeing tops speak for: a top may be low for many reasons, and is high for almost none.
import type { Top } from './rocking-top.ts';

/** Our own figures, kept as data. */
export const LEVEL = {
  /** Beyond so many standard deviations on the low side, a top's lowness is taken for the hand's, not for noise. */
  knee: 0.95,
  /** What is known beforehand of the tops' own uncertainty counts as so many tops. */
  before: 4,
  /** Grid of levels looked at: so many to one standard deviation of the best top. */
  perDeviation: 2,
  most: 48,
} as const;

export interface Level {
  /** Toward the top: negative for an outside. */
  readonly height: number;
  readonly standard: number;
  readonly degreesOfFreedom: number;
}

/**
 * Posterior mean and standard deviation of the level (flat before; on a grid), the tops' scale pooled from their scatter
 * and their own standard uncertainties.
 */
export function levelOf(tops: readonly Top[], sign: number): Level {
  const heights = tops.map((top) => sign * top.value);
  const standards = tops.map((top) => top.standard);
  const first = posterior(heights, standards);
  const freedom = LEVEL.before + tops.length - 1;
  let squares = 0;
  for (let i = 0; i < heights.length; i++)
    squares += Math.max(-LEVEL.knee, ((heights[i] ?? 0) - first.height) / (standards[i] ?? 1)) ** 2;
  const spread = Math.sqrt((LEVEL.before + squares) / freedom);
  const scaled = standards.map((standard) => standard * spread);
  return { ...posterior(heights, scaled), degreesOfFreedom: freedom };
}

/** On a grid, in plain loops: this runs for every top. */
function posterior(
  heights: readonly number[],
  standards: readonly number[],
): { readonly height: number; readonly standard: number } {
  const finest = Math.min(...standards);
  const low = Math.min(...heights) - 3 * finest;
  const high = Math.max(...heights) + 3 * finest;
  const count = Math.min(LEVEL.most, Math.ceil(((high - low) / finest) * LEVEL.perDeviation));
  const step = (high - low) / count;
  const costs = new Float64Array(count + 1);
  for (let top = 0; top < heights.length; top++)
    addUnlikely(costs, heights[top] ?? 0, standards[top] ?? 1, low, step);
  let least = Number.POSITIVE_INFINITY;
  for (const cost of costs) least = Math.min(least, cost);
  let [total, first, second] = [0, 0, 0];
  for (let i = 0; i <= count; i++) {
    const weight = Math.exp(least - (costs[i] ?? 0));
    total += weight;
    first += weight * i;
    second += weight * i * i;
  }
  const mean = first / total;
  return { height: low + mean * step, standard: step * Math.sqrt(Math.max(0, second / total - mean * mean)) };
}

/**
 * Adds minus the log likelihood of a top to the cost of each level of the grid: normal where the top stands above the
 * level or hardly below it, exponential from the knee down.
 */
function addUnlikely(costs: Float64Array, height: number, standard: number, low: number, step: number): void {
  for (let i = 0; i < costs.length; i++) {
    const off = (height - low - i * step) / standard;
    costs[i] =
      (costs[i] ?? 0) + (off >= -LEVEL.knee ? (off * off) / 2 : -LEVEL.knee * off - LEVEL.knee ** 2 / 2);
  }
}
