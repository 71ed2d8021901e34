// Why a plan isn't possible: each reason with what was found and the nearest plan that is possible.
import type { NotPositive } from '../thread/pair.ts';
import { type Angle, inDegrees, inUnit, type Length, type LengthUnit } from '../units.ts';

export type PlanRefusal =
  | NotPositive
  | { readonly kind: 'not-whole'; readonly what: string; readonly found: number; readonly most: number }
  | { readonly kind: 'beyond-a-turn'; readonly found: Angle }
  /** The bored part's wall at its runout groove, where it is thinnest; `mostBore` is undefined where no bore at all leaves that wall. */
  | {
      readonly kind: 'wall-too-thin';
      readonly wall: Length;
      readonly leastWall: Length;
      readonly mostBore: Length | undefined;
      readonly leastOutside: Length;
    }
  /** The spigot's wall between its runout groove and its own hollow. */
  | {
      readonly kind: 'spigot-too-thin';
      readonly wall: Length;
      readonly leastWall: Length;
      readonly mostHollow: Length | undefined;
    }
  | { readonly kind: 'too-few-threads'; readonly engaged: Length; readonly leastEngaged: Length }
  /** The bore is not deep enough; `mostEngaged` is undefined where not even one thread would fit. */
  | {
      readonly kind: 'bore-too-shallow';
      readonly room: Length;
      readonly leastRoom: Length;
      readonly mostEngaged: Length | undefined;
    }
  | {
      readonly kind: 'cutter-too-large';
      readonly cutter: Length;
      readonly bore: Length;
      readonly mostCutter: Length;
    }
  | { readonly kind: 'over-top-speed'; readonly asked: number; readonly topSpeed: number }
  | {
      readonly kind: 'rod-whirls';
      readonly asked: number;
      readonly whirl: number;
      readonly mostSpeed: number;
      readonly mostLength: Length;
    };

/** What binary fractions lose, as a share: a plan that is short by no more is not short. */
const LOST = 1e-12;

/** Whether one figure is truly under another. */
export const under = (found: number, least: number): boolean =>
  found < least - LOST * Math.max(Math.abs(found), Math.abs(least), 1);

/** The most starts that a plan takes; more than any lid is cut with. */
export const MOST_STARTS = 12;

export function wrongStarts(starts: number): PlanRefusal | undefined {
  const whole = Number.isInteger(starts) && starts >= 1 && starts <= MOST_STARTS;
  return whole
    ? undefined
    : { kind: 'not-whole', what: 'number of starts', found: starts, most: MOST_STARTS };
}

/** Sizes in words: limits are shown on their safe side, what may at most be rounded down, what must at least be rounded up. */
function wordsIn(unit: LengthUnit) {
  const decimals = unit === 'mm' ? 1 : 2;
  const fine = 10 ** decimals;
  const text = (value: number): string => `${value.toFixed(decimals)} ${unit}`;
  return {
    shown: (value: Length) => text(inUnit(value, unit)),
    atMost: (value: Length) => text(Math.floor(inUnit(value, unit) * fine + 1e-9) / fine),
    atLeast: (value: Length) => text(Math.ceil(inUnit(value, unit) * fine - 1e-9) / fine),
  };
}

/** The sentence for a person: the reason, and the nearest thing possible. */
export function planRefusalText(refused: PlanRefusal, unit: LengthUnit = 'mm'): string {
  const { shown, atMost, atLeast } = wordsIn(unit);
  switch (refused.kind) {
    case 'not-positive':
      return `the ${refused.what} is ${refused.found}, and has to be a number above zero`;
    case 'not-whole':
      return `the ${refused.what} is ${refused.found}, and has to be a whole number from 1 to ${refused.most}`;
    case 'beyond-a-turn':
      return `a turn of ${inDegrees(refused.found).toFixed(0)} degrees isn't possible. Give an angle from -360deg to 360deg`;
    case 'wall-too-thin':
      return `the bored part's wall at its runout groove would be ${shown(refused.wall)} (minimum ${shown(refused.leastWall)}). ${refused.mostBore === undefined ? 'Leave' : `Bore at most ${atMost(refused.mostBore)}, or leave`} at least ${atLeast(refused.leastOutside)} outside`;
    case 'spigot-too-thin':
      return `the spigot's wall at its runout groove would be ${shown(refused.wall)} (minimum ${shown(refused.leastWall)}). ${refused.mostHollow === undefined ? "This spigot can't be hollow at all" : `Hollow the spigot to at most ${atMost(refused.mostHollow)}`}`;
    case 'too-few-threads':
      return `${shown(refused.engaged)} engaged is less than one whole thread. Engage at least ${atLeast(refused.leastEngaged)}`;
    case 'bore-too-shallow':
      return `the bore gives ${shown(refused.room)} of depth and the thread with its grooves needs ${atLeast(refused.leastRoom)}. ${refused.mostEngaged === undefined ? 'Deepen it, or take a finer pitch' : `Deepen it, or engage at most ${atMost(refused.mostEngaged)}`}`;
    case 'cutter-too-large':
      return `a cutter of ${shown(refused.cutter)} is too large for a bore of ${shown(refused.bore)}. Take one of at most ${atMost(refused.mostCutter)}, two thirds of the bore`;
    case 'over-top-speed':
      return `${refused.asked.toFixed(0)} turns a minute is above the maker's top speed of ${refused.topSpeed.toFixed(0)}. Never run it faster than ${Math.floor(refused.topSpeed)}`;
    case 'rod-whirls':
      return `a rod that sticks out this far starts to whirl at ${refused.whirl.toFixed(0)} turns a minute. At ${refused.asked.toFixed(0)} let it stick out at most ${atMost(refused.mostLength)}, or turn at most ${Math.floor(refused.mostSpeed)}, a quarter of the speed at which it whirls`;
    default:
      return refused satisfies never;
  }
}
