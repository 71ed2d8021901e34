// Chance for simulations that must come out the same on every machine: a seeded generator, uniform and normal.

export interface Chance {
  /** From 0 up to, not including, 1. */
  readonly uniform: () => number;
  /** Mean 0, standard deviation 1. */
  readonly normal: () => number;
}

/** A linear congruential generator of 48 bits (the constants of POSIX drand48; from memory), in two halves. */
export function chanceFrom(seed: number): Chance {
  let state = (BigInt(seed) << 16n) | 0x330en;
  const uniform = (): number => {
    state = (state * 0x5deece66dn + 0xbn) & 0xffffffffffffn;
    return Number(state) / 2 ** 48;
  };
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}
