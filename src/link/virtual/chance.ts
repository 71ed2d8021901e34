// Random numbers that can be repeated: the same seed gives the same bench, on every machine.

export interface Chance {
  /** From 0 up to, but not including, 1. */
  share(): number;
  between(low: number, high: number): number;
  /** Spread about zero with this standard deviation, never more than 3.5 of it: the sum of twelve shares. */
  spread(standard: number): number;
  /** True once in `every` times. */
  once(every: number): boolean;
}

/** Xorshift with the shifts 13, 17, 5 (Marsaglia, Journal of Statistical Software 8 (2003); from memory). */
export function createChance(seed: number): Chance {
  let state = (seed ^ 0x9e3779b9) | 0 || 1;
  const share = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
  for (let warm = 0; warm < 16; warm++) share();
  const between = (low: number, high: number): number => low + (high - low) * share();
  const sumOfTwelve = (): number => Array.from({ length: 12 }, share).reduce((sum, each) => sum + each, -6);
  const spread = (standard: number): number => {
    const drawn = sumOfTwelve();
    return Math.abs(drawn) > 3.5 ? spread(standard) : drawn * standard;
  };
  return { share, between, spread, once: (every) => share() * every < 1 };
}
