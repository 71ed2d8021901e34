// The work on the virtual lathe: what it really measures, and how a spigot comes down pass by pass.
import type { Chance } from './chance.ts';

export interface Work {
  /** The bore over its crests, in millimetres: what the turner is to find. */
  readonly bore: number;
  /** The hollow at its mouth and at depth: bored a little wider at the mouth. */
  readonly hollow: { readonly mouth: number; readonly depth: number };
  /** The spigot as it stands; undefined before its first pass. */
  readonly spigot: number | undefined;
}

export function freshWork(chance: Chance, bore?: number): Work {
  const across = bore ?? chance.between(40, 46);
  const hollow = { mouth: across + chance.between(0.02, 0.06), depth: across };
  return { bore: across, hollow, spigot: undefined };
}

/** Near enough for a turner with a 0.01 mm caliper: this much over the target, they put the gouge down. */
const CLOSE_ENOUGH = 0.025;
const LIGHTEST_PASS = 0.02;
/** A spigot this much under what is asked for now belongs to an earlier box: they mount a new blank. */
const EARLIER_BOX = 0.3;

/** The spigot after one more pass: bold while far, light when near, and never deliberately past the target. */
export function pass(work: Work, target: number, chance: Chance): Work {
  if (work.spigot === undefined || target - work.spigot > EARLIER_BOX)
    return { ...work, spigot: target + chance.between(1.8, 2.6) };
  const remaining = work.spigot - target;
  if (remaining <= CLOSE_ENOUGH) return work;
  const cut = Math.max(remaining * chance.between(0.4, 0.75), LIGHTEST_PASS);
  return { ...work, spigot: work.spigot - Math.min(cut, remaining - chance.between(0, CLOSE_ENOUGH)) };
}

export const atTarget = (work: Work, target: number): boolean =>
  work.spigot !== undefined && work.spigot - target <= CLOSE_ENOUGH && target - work.spigot <= EARLIER_BOX;
