// How a hand moves the jaws: short moves, each a jaw opening over its own share of time.

/** A jaw opening in millimetres, over a share of the move's time that runs from 0 to 1. */
export interface Move {
  readonly lasts: number;
  readonly opening: (share: number) => number;
}

const eased = (share: number): number => (1 - Math.cos(Math.PI * share)) / 2;

export const hold = (opening: number, lasts: number): Move => ({ lasts, opening: () => opening });

/** From one opening to another, starting and ending gently. */
export const glide = (from: number, to: number, lasts: number): Move => ({
  lasts,
  opening: (share) => from + (to - from) * eased(share),
});

/**
 * One swing of the jaws across a bore, from one side of its diameter to the other: off the middle by e they span the
 * chord sqrt(D^2 - 4 e^2), and tilted along the axis D / cos(tilt) (derived from the circle).
 */
export const swingInBore = (
  diameter: number,
  fromOff: number,
  toOff: number,
  tilt: number,
  lasts: number,
): Move => ({
  lasts,
  opening: (share) => {
    const off = fromOff + (toOff - fromOff) * eased(share);
    return Math.sqrt(diameter ** 2 - 4 * off ** 2) / Math.cos(tilt);
  },
});

/** One swing of parallel jaws over a spigot: never less than the diameter, and that only when square to the axis. */
export const swingOverSpigot = (diameter: number, fromTilt: number, toTilt: number, lasts: number): Move => ({
  lasts,
  opening: (share) => diameter / Math.cos(fromTilt + (toTilt - fromTilt) * eased(share)),
});
