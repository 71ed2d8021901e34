// The path of a rock as every hand model gives it, on a fine grid of time.

/** What the jaws do on the work, every `TICK` milliseconds. */
export interface Path {
  /** How far the jaws are off the diameter, in mm, either side. */
  readonly offset: readonly number[];
  /** How much a jaw not seated makes it read low (a bore) or high (an outside), in mm, zero or more. */
  readonly unseated: readonly number[];
}

/** Milliseconds between two points of a path. */
export const TICK = 2;
