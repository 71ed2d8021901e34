// How fast: surface speed, the maker's top speed, and whether the cutter suits the bore.
import { type Length, mm } from '../units.ts';
import { notPositive, type PlanRefusal, under } from './refusal.ts';

declare const unit: unique symbol;
/** Turning speed; the number inside is turns a minute. */
export type TurnsPerMinute = number & { readonly [unit]: 'turns-per-minute' };
/** Speed of a surface; the number inside is metres a minute. */
export type SurfaceSpeed = number & { readonly [unit]: 'surface-speed' };

export const turnsPerMinute = (value: number): TurnsPerMinute => value as TurnsPerMinute;
export const metresPerMinute = (value: number): SurfaceSpeed => value as SurfaceSpeed;
/** Feet a minute, as older tables count; exact. */
export const feetPerMinute = (value: number): SurfaceSpeed => metresPerMinute(value * 0.3048);

/** pi d n: how fast the edge of a diameter goes. */
export const surfaceSpeed = (diameter: Length, speed: TurnsPerMinute): SurfaceSpeed =>
  metresPerMinute((Math.PI * diameter * speed) / 1000);

/** v / (pi d): the turning speed that gives a surface speed, or what is wrong with the diameter. */
export function speedFor(
  diameter: Length,
  surface: SurfaceSpeed,
): { readonly kind: 'speed'; readonly speed: TurnsPerMinute } | PlanRefusal {
  const wrong = notPositive({ diameter, 'surface speed': surface });
  if (wrong) return wrong;
  const speed = turnsPerMinute((surface * 1000) / (Math.PI * diameter));
  return Number.isFinite(speed)
    ? { kind: 'speed', speed }
    : { kind: 'not-positive', what: 'diameter', found: diameter };
}

/** Nothing when the speed is one that the maker allows; a hard warning otherwise. */
export function overTopSpeed(asked: TurnsPerMinute, topSpeed: TurnsPerMinute): PlanRefusal | undefined {
  const wrong = notPositive({ speed: asked, 'top speed': topSpeed });
  return wrong ?? (under(topSpeed, asked) ? { kind: 'over-top-speed', asked, topSpeed } : undefined);
}

/** Our own bound (maths section 7): beyond two thirds of the bore a disc widens its groove too much to be ignored. */
export function cutterTooLarge(cutter: Length, bore: Length): PlanRefusal | undefined {
  const mostCutter = mm((2 / 3) * bore);
  const wrong = notPositive({ cutter, bore });
  return (
    wrong ?? (under(mostCutter, cutter) ? { kind: 'cutter-too-large', cutter, bore, mostCutter } : undefined)
  );
}
