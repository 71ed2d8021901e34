// Which tops agree, and what they say together: the highest level that enough tops support.
import { type Length, mm } from '../units.ts';
import { levelOf } from './rocking-level.ts';
import type { CaptureSettings } from './rocking-settings.ts';
import type { Top } from './rocking-top.ts';

/** How tops are weighed; our own figures, kept as data. */
export const AGREEMENT = {
  /** Tops whose own standard uncertainty is above this many times the tolerance do not vote. */
  clear: 1.5,
  /** Tops must lie within this share of their median height above their sides. */
  ofHeight: 1 / 3,
  /** Other tops count against the agreement only within this share of the size: farther ones are of something else. */
  near: 0.03,
  /**
   * One top beyond the agreeing ones is borne by so many of them that are firm: placed within this share of the
   * tolerance, and so many times better than the excess.
   */
  perBeyond: 3,
  firm: 0.7,
  firmness: 3,
  /** A reading this far beyond the agreeing tops, in mm, counts as a top beyond. */
  readingBeyond: 0.015,
  /** The least share of the tops nearby that must agree. */
  share: 0.3,
  /** Where no rock but one reaches so many steps, more of the tops must agree, and better beside their height. */
  shallow: { steps: 6, share: 0.5, ofHeight: 1 / 4 },
  /** Tops that vote: the last so many. */
  voters: 16,
} as const;

export interface Agreement {
  readonly agreeing: readonly Top[];
  /** Tops nearby: agreeing, lower and beyond. */
  readonly nearby: readonly Top[];
  /** Clear tops beyond the agreeing ones, too many to be borne. */
  readonly beyond: readonly Top[];
  /** Whether enough agree and nothing speaks against it. */
  readonly closed: boolean;
  readonly value: Length;
  readonly agreement: number;
  readonly sharedRounding: number;
  readonly degreesOfFreedom: number;
  readonly spread: Length;
}

const signOf = (settings: CaptureSettings): number => (settings.side === 'bore' ? 1 : -1);

/** The best supported level among the tops; null when no top is clear. This and what follows runs for every top. */
export function agreementOf(tops: readonly Top[], settings: CaptureSettings, step: number): Agreement | null {
  const sign = signOf(settings);
  const { span, share } = askedOf(tops, settings, step);
  const clear = tops
    .filter((top) => top.standard <= AGREEMENT.clear * Math.max(settings.tolerance, 2 * step))
    .sort((a, b) => sign * (b.value - a.value));
  const agreeing = bestGroup(clear, span, settings.leastTops);
  return agreeing[0] ? weighed(agreeing, { clear, tops, sign, settings, share, leader: agreeing[0] }) : null;
}

/**
 * Of the tops, sorted from the farthest down: the farthest one with enough others within the span below it, and those;
 * where none has enough, the one with the most.
 */
function bestGroup(sorted: readonly Top[], span: number, enough: number): readonly Top[] {
  let [best, size] = [0, 0];
  for (let from = 0, to = 0; from < sorted.length; from++) {
    const farthest = sorted[from]?.value ?? 0;
    while (to < sorted.length && Math.abs((sorted[to]?.value ?? 0) - farthest) <= span) to++;
    if (to - from > size) [best, size] = [from, to - from];
    if (size >= enough) break;
  }
  return sorted.slice(best, best + size);
}

/** What is asked of these tops: a span to agree within, and what share of those nearby must. */
interface Asked {
  readonly span: number;
  readonly share: number;
}

/** The tolerance and a share: both stricter where the rocks are so shallow that a sway could pass for them. */
function askedOf(tops: readonly Top[], settings: CaptureSettings, step: number): Asked {
  const { share, ofHeight, shallow } = AGREEMENT;
  const heights = tops.map((top) => top.height).sort((a, b) => b - a);
  const [upper, lower] = [Math.floor((heights.length - 1) / 2), Math.ceil((heights.length - 1) / 2)];
  const median = ((heights[lower] ?? 0) + (heights[upper] ?? 0)) / 2;
  const strict = (heights[1] ?? 0) < shallow.steps * step;
  const most = Math.max((strict ? 1.2 : 1.5) * step, (strict ? shallow.ofHeight : ofHeight) * median);
  return {
    span: Math.min(Math.max(settings.tolerance, 2 * step), most) * (1 + 1e-9),
    share: strict ? shallow.share : share,
  };
}

interface Vote {
  readonly clear: readonly Top[];
  readonly tops: readonly Top[];
  readonly sign: number;
  readonly settings: CaptureSettings;
  readonly share: number;
  readonly leader: Top;
}

function weighed(agreeing: readonly Top[], vote: Vote): Agreement {
  const { clear, tops, sign, settings, leader } = vote;
  const near = (top: Top) => Math.abs(top.value - leader.value) <= AGREEMENT.near * leader.value;
  const nearby = tops.filter(near);
  const past = (top: Top) => sign * (top.value - leader.value);
  const beyond = tops.filter(
    (top) =>
      near(top) &&
      !agreeing.includes(top) &&
      ((clear.includes(top) && past(top) > 0) ||
        sign * (top.reached - leader.value) > AGREEMENT.readingBeyond),
  );
  const excess = Math.min(...beyond.map((top) => Math.max(past(top), sign * (top.reached - leader.value))));
  const firm = agreeing.filter(
    (top) => top.standard <= Math.min(AGREEMENT.firm * settings.tolerance, excess / AGREEMENT.firmness),
  );
  const closed =
    agreeing.length >= settings.leastTops &&
    beyond.length <= Math.floor(firm.length / AGREEMENT.perBeyond) &&
    agreeing.length >= vote.share * nearby.length;
  const level = levelOf(agreeing, sign);
  return {
    agreeing,
    nearby,
    beyond,
    closed,
    spread: mm(Math.abs(leader.value - (agreeing.at(-1)?.value ?? leader.value))),
    value: mm(sign * level.height),
    agreement: level.standard,
    degreesOfFreedom: level.degreesOfFreedom,
    sharedRounding: agreeing.reduce((sum, top) => sum + top.sharedRounding, 0) / agreeing.length,
  };
}
