// The work on the virtual lathe: what it really measures, how a spigot comes down pass by pass, and how deep the grooves are.
import type { Part } from '../../core/thread/pair.ts';
import type { Chance } from './chance.ts';

export interface Work {
  /** The bore over its crests, in millimetres: what the turner is to find. */
  readonly bore: number;
  /** The hollow at its mouth and at depth: bored a little wider at the mouth. */
  readonly hollow: { readonly mouth: number; readonly depth: number };
  /** The spigot's size now; undefined before its first pass. */
  readonly spigot: number | undefined;
  readonly grooves: { readonly [part in Part]: Groove };
}

/** In millimetres below the surface; above it less than zero. */
interface Groove {
  /** The cutter's true depth when the turner sees it just mark the wood. */
  readonly mark: number;
  /** Its depth now; undefined before a touch-off. */
  readonly cutter: number | undefined;
  /** The deepest it has stood: what was cut. */
  readonly depth: number;
}

/** What one detent really feeds, and how far off a touch-off may be, in millimetres: as the virtual feed's facts say. */
export const DETENT = 0.2;
export const TOUCH_OFF = 0.03;

export function freshWork(chance: Chance, bore?: number): Work {
  const across = bore ?? chance.between(40, 46);
  const hollow = { mouth: across + chance.between(0.02, 0.06), depth: across };
  const groove = (): Groove => ({
    mark: chance.between(-TOUCH_OFF, TOUCH_OFF),
    cutter: undefined,
    depth: 0,
  });
  return { bore: across, hollow, spigot: undefined, grooves: { female: groove(), male: groove() } };
}

const withGroove = (work: Work, part: Part, change: Partial<Groove>): Work => ({
  ...work,
  grooves: { ...work.grooves, [part]: { ...work.grooves[part], ...change } },
});

/** The turner saw the cutter mark the wood. */
export const touchedOff = (work: Work, part: Part): Work =>
  withGroove(work, part, { cutter: work.grooves[part].mark });

/** The cutter fed on; it cuts nothing that was not touched off. */
export function fed(work: Work, part: Part, detents: number): Work {
  const { cutter, depth } = work.grooves[part];
  if (cutter === undefined) return work;
  const now = cutter + detents * DETENT;
  return withGroove(work, part, { cutter: now, depth: Math.max(depth, now) });
}

/** Near enough for a turner with a 0.01 mm caliper: this much over the target, rounded either way, the bench says AT SIZE. */
const CLOSE_ENOUGH = 0.012;
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
