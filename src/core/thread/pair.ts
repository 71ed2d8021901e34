// A pair of threads as cut, and why some pairs aren't possible: each refusal is a value with what was found.
import { type Angle, degrees, inDegrees, type Length, mm } from '../units.ts';
import { crestLeft, flankSlope, roundHeight, sharpHeight, type Tip, tipLoss } from './form.ts';

export type Part = 'female' | 'male';
export const PARTS: readonly Part[] = ['female', 'male'];

/** The part as the turner sees it: bore and spigot, whichever of them is the lid. */
export const partWord = (part: Part): string => (part === 'female' ? 'bore' : 'spigot');
export const inPart = (part: Part): string => (part === 'female' ? 'in the bore' : 'on the spigot');

/** One part's groove as really cut. */
export interface Groove {
  /** Radial, from the surface before it was cut. */
  readonly depth: Length;
  readonly tip: Tip;
  /** What a disc cutter adds to each flank (milling.ts); none when left out. */
  readonly widening?: Length;
}

/** Both threads of a box: the female in the bore, the male on the spigot. */
export interface Pair {
  readonly pitch: Length;
  readonly starts: number;
  readonly angle: Angle;
  readonly female: Groove;
  readonly male: Groove;
}

/** A figure that must be a number above zero and isn't. */
export interface NotPositive {
  readonly kind: 'not-positive';
  readonly what: string;
  readonly found: number;
}

/** Why these threads have no fit, with what was found. */
export type FitRefusal =
  | NotPositive
  | { readonly kind: 'not-whole'; readonly what: 'starts'; readonly found: number }
  | {
      readonly kind: 'angle-out-of-range';
      readonly found: Angle;
      readonly least: Angle;
      readonly most: Angle;
    }
  | { readonly kind: 'crest-eaten'; readonly part: Part; readonly crest: Length; readonly mostDepth: Length }
  | { readonly kind: 'no-flank'; readonly part: Part; readonly depth: Length; readonly leastDepth: Length }
  | {
      readonly kind: 'no-engagement';
      readonly wanted: Length;
      readonly allowance: Length;
      readonly limit: Length;
    };

/** Included angles that a turned thread may have. */
export const leastAngle = degrees(20);
export const mostAngle = degrees(90);

/** The first of these figures that isn't a number above zero. */
export function notPositive(figures: Readonly<Record<string, number>>): NotPositive | undefined {
  const wrong = Object.entries(figures).find(([, found]) => !(found > 0 && Number.isFinite(found)));
  return wrong && { kind: 'not-positive', what: wrong[0], found: wrong[1] };
}

const tipSize = (tip: Tip): number =>
  tip.kind === 'flat' ? tip.width : tip.kind === 'radius' ? tip.radius : 0;

function grooveRefusal(pair: Pair, part: Part): FitRefusal | undefined {
  const { depth, tip, widening = mm(0) } = pair[part];
  const wrong = notPositive({ [`${part} depth`]: depth });
  if (wrong) return wrong;
  if (!(tipSize(tip) >= 0)) return { kind: 'not-positive', what: `${part} tip`, found: tipSize(tip) };
  if (!(widening >= 0)) return { kind: 'not-positive', what: `${part} widening`, found: widening };
  const leastDepth = roundHeight(tip, pair.angle);
  if (depth <= leastDepth) return { kind: 'no-flank', part, depth, leastDepth };
  const crest = crestLeft(pair.pitch, depth, tip, pair.angle, widening);
  const mostDepth = mm(
    sharpHeight(pair.pitch, pair.angle) - tipLoss(tip, pair.angle) - widening / flankSlope(pair.angle),
  );
  return crest > 0 ? undefined : { kind: 'crest-eaten', part, crest, mostDepth };
}

/** What is wrong with a pair, if anything. */
export function pairRefusal(pair: Pair): FitRefusal | undefined {
  const { pitch, starts, angle } = pair;
  const wrong = notPositive({ pitch });
  if (wrong) return wrong;
  if (!(Number.isInteger(starts) && starts > 0)) return { kind: 'not-whole', what: 'starts', found: starts };
  if (!(angle >= leastAngle && angle <= mostAngle))
    return { kind: 'angle-out-of-range', found: angle, least: leastAngle, most: mostAngle };
  return grooveRefusal(pair, 'female') ?? grooveRefusal(pair, 'male');
}

const shown = (value: number): string => `${value.toFixed(3)} mm`;

/** The sentence for a person: what is wrong with the pair, and the nearest thing that is right. */
export function fitRefusalText(refused: FitRefusal): string {
  switch (refused.kind) {
    case 'not-positive':
      return `the ${refused.what} is ${refused.found}, and has to be a number above zero`;
    case 'not-whole':
      return `${refused.found} starts can't be cut. Give a whole number from 1`;
    case 'angle-out-of-range':
      return `an angle of ${inDegrees(refused.found).toFixed(1)} degrees isn't a thread angle. Give ${inDegrees(refused.least).toFixed(0)} to ${inDegrees(refused.most).toFixed(0)} degrees`;
    case 'crest-eaten':
      return `that depth leaves no crest ${inPart(refused.part)} (crest width ${shown(refused.crest)}). Cut less than ${shown(refused.mostDepth)} deep`;
    case 'no-flank':
      return `the groove ${inPart(refused.part)} is ${shown(refused.depth)} deep, which the cutter's round nose fills completely. Cut deeper than ${shown(refused.leastDepth)}`;
    case 'no-engagement':
      return `with ${shown(refused.wanted)} of clearance the threads would not engage: the spigot would be ${shown(-refused.allowance)} smaller than the bore. These depths allow up to ${shown(Math.max(refused.limit, 0))}. Cut deeper or ask for less clearance`;
    default:
      return refused satisfies never;
  }
}
