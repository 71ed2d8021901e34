// The section of the threads being cut, as heights over one column of the drawing at a time.
import type { Groove, Pair } from '../../../core/thread/pair.ts';
import { depthAt } from '../../../core/thread/section.ts';
import { type Length, mm } from '../../../core/units.ts';

export interface SectionModel {
  /** Both grooves as they are to be. */
  readonly planned: Pair;
  /** The depth of the groove being cut, so far. */
  readonly cut: Length;
  readonly cutting: 'female' | 'male';
  /** Spigot less bore; null draws the female part alone. */
  readonly allowance: Length | null;
  readonly notes: readonly string[];
}

/** Heights above the bore's surface, into the female part, over one place along the axis; millimetres. */
export interface Heights {
  /** Where the female part begins, as cut so far and as planned. */
  readonly female: number;
  readonly femalePlanned: number;
  /** Where the male part ends; null where it is not drawn. */
  readonly male: number | null;
  readonly malePlanned: number | null;
}

/** Axial distance from the middle of the nearest groove; the first stands at `first`, the others a pitch apart. */
const fromGroove = (along: number, first: number, pitch: number): number => {
  const turns = (along - first) / pitch;
  return (turns - Math.round(turns)) * pitch;
};

const cutTo = (groove: Groove, depth: Length): Groove => ({ ...groove, depth });

/** The lid stands in the middle of its axial play: its grooves are over the spigot's crests (maths section 2). */
export function heightsAt(model: SectionModel, along: number): Heights {
  const { planned, cut, cutting, allowance } = model;
  const { female, male, pitch, angle } = planned;
  const inFemale = fromGroove(along, pitch / 2, pitch);
  const inMale = fromGroove(along, 0, pitch);
  const step = allowance === null ? null : allowance / 2;
  const deep = (groove: Groove, at: number): Length => depthAt(groove, angle, at);
  const femalePlanned = deep(female, inFemale);
  const malePlanned = step === null ? null : step - deep(male, inMale);
  return {
    femalePlanned,
    female: cutting === 'female' ? deep(cutTo(female, cut), inFemale) : femalePlanned,
    malePlanned,
    male: step === null || cutting === 'female' ? malePlanned : step - deep(cutTo(male, cut), inMale),
  };
}

const MARGIN = 0.25;

/** The heights that the drawing reaches over, in millimetres. */
export function reachOf({ planned, cut, allowance }: SectionModel): {
  readonly from: number;
  readonly to: number;
} {
  const { female, male, pitch } = planned;
  const margin = MARGIN * pitch;
  const top = Math.max(female.depth, cut, allowance === null ? 0 : allowance / 2);
  const bottom = allowance === null ? 0 : Math.min(0, allowance / 2 - Math.max(male.depth, cut));
  return { from: bottom - (allowance === null ? margin / 5 : margin), to: mm(top + margin) };
}
