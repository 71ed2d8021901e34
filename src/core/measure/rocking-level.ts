// The level that agreeing tops speak for: a top may be low for many reasons, and is high for almost none.
import type { Top } from './rocking-top.ts';

/** Our own figures, kept as data. */
export const LEVEL = {
  /** Beyond so many standard deviations on the low side, a top's lowness is taken for the hand's, not for noise. */
  knee: 0.8,
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

interface Voice {
  readonly height: number;
  readonly standard: number;
}

/** Minus the log likelihood of a top `off` standard deviations above the level: normal, but exponential on the low side. */
const unlikely = (off: number): number =>
  off >= -LEVEL.knee ? (off * off) / 2 : -LEVEL.knee * off - LEVEL.knee ** 2 / 2;

/**
 * Posterior mean and standard deviation of the level (flat before; on a grid), the tops' scale pooled from their scatter
 * and their own standard uncertainties.
 */
export function levelOf(tops: readonly Top[], sign: number): Level {
  const voices = tops.map((top) => ({ height: sign * top.value, standard: top.standard }));
  const first = posterior(voices);
  const offs = voices.map((voice) => Math.max(-LEVEL.knee, (voice.height - first.height) / voice.standard));
  const freedom = LEVEL.before + tops.length - 1;
  const spread = Math.sqrt((LEVEL.before + offs.reduce((sum, off) => sum + off * off, 0)) / freedom);
  const scaled = voices.map((voice) => ({ ...voice, standard: voice.standard * spread }));
  return { ...posterior(scaled), degreesOfFreedom: freedom };
}

/** On a grid, in plain loops: this runs for every top. */
function posterior(voices: readonly Voice[]): { readonly height: number; readonly standard: number } {
  const finest = Math.min(...voices.map((voice) => voice.standard));
  const low = Math.min(...voices.map((voice) => voice.height)) - 3 * finest;
  const high = Math.max(...voices.map((voice) => voice.height)) + 3 * finest;
  const count = Math.min(LEVEL.most, Math.ceil(((high - low) / finest) * LEVEL.perDeviation));
  const step = (high - low) / count;
  const costs: number[] = [];
  for (let i = 0; i <= count; i++) {
    let cost = 0;
    for (const { height, standard } of voices) cost += unlikely((height - low - i * step) / standard);
    costs.push(cost);
  }
  const least = Math.min(...costs);
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
