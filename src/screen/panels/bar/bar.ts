// The bar toward a target: where a diameter stands between the blank and the loosest spigot that still runs.
import type { Style } from '../../picture.ts';

export type BarZone = 'far' | 'near' | 'at' | 'under' | 'past';

export interface Bar {
  readonly zone: BarZone | null;
  /** What it shows is no longer live. */
  readonly stale: boolean;
  /** 0 to 1 along the bar: filled up to here; null with nothing measured. */
  readonly filled: number | null;
  /** 0 to 1: the target, and the loosest that runs. */
  readonly target: number;
  readonly loosest: number;
  /** What stands under the target's mark. */
  readonly targetText: string;
}

/** Shares of the bar's length: turning down, coming near, and beyond the target. */
const FAR = 0.35;
const TARGET = 0.8;
/** Millimetres on the diameter that the first part of the bar reaches over. */
const REACH = 5;

/**
 * The place on the bar of a diameter so much over its target (millimetres; below zero is under): the last half
 * millimetre takes more of it than all before, since that is where the eye is needed.
 */
export function placeOf(over: number, near: number, beyond: number): number {
  if (over >= near) return Math.max(0, FAR * (1 - (over - near) / (REACH - near)));
  if (over >= 0) return FAR + (TARGET - FAR) * (1 - over / near);
  return Math.min(1, TARGET + (1 - TARGET) * (-over / beyond));
}

export const ZONE_STYLE: { readonly [zone in BarZone]: Style } = {
  far: 'plain',
  near: 'near',
  at: 'at',
  under: 'past',
  past: 'past',
};
