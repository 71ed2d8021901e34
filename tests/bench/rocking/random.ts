// Seeded chance for the simulated benches: the same seed gives the same trace on every machine.

export interface Chance {
  /** Uniform from `low` to `high`. */
  readonly between: (low: number, high: number) => number;
  readonly normal: (deviation: number) => number;
  /** True with this probability. */
  readonly happens: (probability: number) => boolean;
  /** A whole number from `low` to `high`, both included. */
  readonly whole: (low: number, high: number) => number;
  /** Exponential with this mean. */
  readonly exponential: (mean: number) => number;
}

/** The 32-bit finaliser of the splitmix construction; constants from memory. */
function hashed(counter: number): number {
  let x = counter;
  x = Math.imul(x ^ (x >>> 16), 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return (x ^ (x >>> 16)) >>> 0;
}

/**
 * A 32-bit counter hashed (the splitmix construction). It begins at the seed's own hash: counters that begin at neighbouring places
 * would give neighbouring seeds the same draws, moved on by one.
 */
export function chance(seed: number): Chance {
  let state = hashed(seed + 1);
  const unit = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    return hashed(state) / 4294967296;
  };
  const normal = (deviation: number) =>
    deviation * Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit());
  return {
    between: (low, high) => low + (high - low) * unit(),
    normal,
    happens: (probability) => unit() < probability,
    whole: (low, high) => low + Math.floor((high - low + 1) * unit()),
    exponential: (mean) => -mean * Math.log(1 - unit()),
  };
}
