// Seeded chance for tests and simulations: the same seed gives the same run on every machine.

export type Chance = ReturnType<typeof chanceBy>;

/** A linear congruential generator of 48 bits (the constants of POSIX drand48; from memory): for simulated jobs. */
export function chanceFrom(seed: number): Chance {
  let state = (BigInt(seed) << 16n) | 0x330en;
  return chanceBy(() => {
    state = (state * 0x5deece66dn + 0xbn) & 0xffffffffffffn;
    return Number(state) / 2 ** 48;
  });
}

/** A 32-bit xorshift generator, for millions of draws. Source: Marsaglia, "Xorshift RNGs", 2003, triple 13, 17, 5 (from memory). */
export function fastChanceFrom(seed: number): Chance {
  let state = Math.imul(seed + 1, 0x9e3779b1) >>> 0 || 1; // spreads small seeds apart
  return chanceBy(() => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  });
}

/** The 32-bit finaliser of the splitmix construction; constants from memory. */
function hashed(counter: number): number {
  let x = counter;
  x = Math.imul(x ^ (x >>> 16), 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return (x ^ (x >>> 16)) >>> 0;
}

/**
 * A 32-bit counter hashed (the splitmix construction), for many seeds in a row. It begins at the seed's own hash: counters that
 * begin at neighbouring places would give neighbouring seeds the same draws, moved on by one.
 */
export function hashedChanceFrom(seed: number): Chance {
  let state = hashed(seed + 1);
  return chanceBy(() => {
    state = (state + 0x9e3779b9) >>> 0;
    return hashed(state) / 2 ** 32;
  });
}

function chanceBy(uniform: () => number) {
  const below = (count: number): number => Math.floor(uniform() * count);
  return {
    /** From 0 up to, not including, 1. */
    uniform,
    /** Mean 0, standard deviation 1 where no other is given. */
    normal: (deviation = 1): number =>
      deviation * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    /** True with this probability. */
    happens: (probability: number): boolean => uniform() < probability,
    /** A number from `least` up to, but not including, `most`. */
    between: (least: number, most: number): number => least + uniform() * (most - least),
    /** A whole number from 0 up to, but not including, `count`. */
    below,
    /** A whole number from `least` to `most`, both included. */
    whole: (least: number, most: number): number => least + below(most - least + 1),
    /** One of the list, which must not be empty. */
    pick<T>(list: readonly T[]): T {
      const picked = list[below(list.length)];
      if (picked === undefined) throw new RangeError('nothing to pick from');
      return picked;
    },
  };
}
