// How far wood moves across the grain when its moisture changes, and what that does to a round part.
import { type Length, type Moisture, mm, moisture } from '../units.ts';

/** How one direction of a wood moves, in both of the Handbook's forms. */
export interface Swell {
  /** Change of size per percent of moisture, as a share of the size: C, for Eq. 13-2. */
  readonly coefficient: number;
  /** From green to oven-dry, in percent of the green size: S, for Eq. 13-3. */
  readonly shrinkage: number;
}

/** Moisture at which shrinkage is assumed to start (Wood Handbook FPL-GTR-190, ch. 13, under Eq. 13-3). */
export const FIBRE_SATURATION = moisture(30);
/** Where the coefficients hold (the title of the Handbook's Table 13-5). */
export const COEFFICIENTS_HOLD = { least: moisture(6), most: moisture(14) } as const;

/** C from S: C = (S/100/30) / (1 - (S/100)(20/30)), the coefficient referred to the size at 10 %; reproduces Table 13-5. */
export const coefficientOf = (shrinkage: number): number =>
  shrinkage / 100 / 30 / (1 - (shrinkage / 100) * (20 / 30));

/** S from C: the same turned round (derived). */
export const shrinkageOf = (coefficient: number): number => (100 * 30 * coefficient) / (1 + 20 * coefficient);

/** Both forms from whichever is known; nothing when neither is, or when it isn't a share of a size. */
export function swellOf(known: {
  readonly shrinkage?: number | undefined;
  readonly coefficient?: number | undefined;
}): Swell | undefined {
  const shrinkage =
    known.shrinkage ?? (known.coefficient === undefined ? undefined : shrinkageOf(known.coefficient));
  if (shrinkage === undefined || !(shrinkage >= 0 && shrinkage < 100)) return undefined;
  return { shrinkage, coefficient: known.coefficient ?? coefficientOf(shrinkage) };
}

/** dD = D C (MF - MI), for moistures inside 6 to 14 % (Wood Handbook FPL-GTR-190, Eq. 13-2). */
export const changeByCoefficient = (size: Length, swell: Swell, from: Moisture, to: Moisture): Length =>
  mm(size * swell.coefficient * (to - from)); // Eq. 13-2

/** dD = D (MF - MI) / (30 x 100/S - 30 + MI), for moistures to 30 % (Eq. 13-3; its expression from memory). */
export const changeByShrinkage = (size: Length, swell: Swell, from: Moisture, to: Moisture): Length =>
  mm((size * (to - from)) / ((30 * 100) / swell.shrinkage - 30 + from)); // Eq. 13-3

export const coefficientsHold = (at: Moisture): boolean =>
  at >= COEFFICIENTS_HOLD.least && at <= COEFFICIENTS_HOLD.most;

const nearestHeld = (at: Moisture): Moisture =>
  moisture(Math.min(Math.max(at, COEFFICIENTS_HOLD.least), COEFFICIENTS_HOLD.most));

/**
 * Change of a size from one moisture to another, both from 0 to 30 % (the caller has checked): the part of the way inside
 * 6 to 14 % by Eq. 13-2, the parts outside by Eq. 13-3, so that no step appears at the bounds (derived).
 */
export function changeOf(size: Length, swell: Swell, from: Moisture, to: Moisture): Length {
  const enter = nearestHeld(from);
  const leave = nearestHeld(to);
  const outside = (at: number, start: Moisture, end: Moisture): number =>
    start === end ? at : at + changeByShrinkage(mm(at), swell, start, end);
  const entered = outside(size, from, enter);
  const crossed = entered + changeByCoefficient(mm(entered), swell, enter, leave);
  return mm(outside(crossed, leave, to) - size);
}

/** How the wood lies in a turned part: axis along the grain, or across it with a flatsawn or quartersawn face. */
export const GRAINS = ['end', 'flat', 'quarter'] as const;
export type Grain = (typeof GRAINS)[number];

/** The two directions, square to each other, in which a round part moves most and least. */
export interface Ring {
  readonly first: Swell;
  readonly second: Swell;
}

/** Lengthwise movement is about a hundredth of the tangential (Handbook ch. 4: 0.1 to 0.2 %, from memory). */
const LENGTHWISE = 0.01;

/** The ring that a part with this grain is: (T, R) along the grain, (T, L) flatsawn, (R, L) quartersawn. */
export function ringOf(wood: { readonly radial: Swell; readonly tangential: Swell }, grain: Grain): Ring {
  const { radial, tangential } = wood;
  const along = {
    shrinkage: tangential.shrinkage * LENGTHWISE,
    coefficient: tangential.coefficient * LENGTHWISE,
  };
  const rings: { readonly [of in Grain]: Ring } = {
    end: { first: tangential, second: radial },
    flat: { first: tangential, second: along },
    quarter: { first: radial, second: along },
  };
  return rings[grain];
}

/** A round part gone oval: what its mean diameter gained, and half of what its two diameters now differ. */
export interface Oval {
  readonly mean: Length;
  readonly half: Length;
}

export function ovalOf(diameter: Length, ring: Ring, from: Moisture, to: Moisture): Oval {
  const first = changeOf(diameter, ring.first, from, to);
  const second = changeOf(diameter, ring.second, from, to);
  return { mean: mm((first + second) / 2), half: mm((first - second) / 2) };
}

/**
 * Least diametral gap between a bore and a spigot gone oval, at the worst of all turns (derived). Widths are D + mean +
 * half cos 2x; with the grain turned by t the gap's least over x is the clearance, plus the means' difference, less
 * |half_bore - half_spigot e^(2it)|. That is greatest where the long way of one meets the short way of the other; for one
 * wood it is D |CT - CR| |dM| |sin t|, so the tight place is a quarter turn from closed.
 */
export const leastGap = (clearance: Length, bore: Oval, spigot: Oval): Length =>
  mm(clearance + bore.mean - spigot.mean - Math.abs(bore.half) - Math.abs(spigot.half));
