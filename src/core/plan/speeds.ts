// How fast: surface speed, the maker's top speed, the cutter against its bore, and where a rod that stands out would whirl.
import { mostOfBore } from '../thread/milling.ts';
import { notPositive } from '../thread/pair.ts';
import { type Length, mm } from '../units.ts';
import { type PlanRefusal, under } from './refusal.ts';

declare const unit: unique symbol;
/** Turning speed; the number inside is turns a minute. */
export type TurnsPerMinute = number & { readonly [unit]: 'turns-per-minute' };
/** Speed of a surface; the number inside is metres a minute. */
type SurfaceSpeed = number & { readonly [unit]: 'surface-speed' };

export const turnsPerMinute = (value: number): TurnsPerMinute => value as TurnsPerMinute;
const metresPerMinute = (value: number): SurfaceSpeed => value as SurfaceSpeed;

/** pi d n: how fast the edge of a diameter goes. */
export const surfaceSpeed = (diameter: Length, speed: TurnsPerMinute): SurfaceSpeed =>
  metresPerMinute((Math.PI * diameter * speed) / 1000);

/** Nothing when the speed is one that the maker allows; a hard warning otherwise. */
export function overTopSpeed(asked: TurnsPerMinute, topSpeed: TurnsPerMinute): PlanRefusal | undefined {
  const wrong = notPositive({ speed: asked, 'top speed': topSpeed });
  return wrong ?? (under(topSpeed, asked) ? { kind: 'over-top-speed', asked, topSpeed } : undefined);
}

/** Our own choice: beyond two thirds of the bore a disc widens its groove too much to be ignored (thread/milling.ts). */
export function cutterTooLarge(cutter: Length, bore: Length): PlanRefusal | undefined {
  const mostCutter = mm(mostOfBore * bore);
  const wrong = notPositive({ cutter, bore });
  return (
    wrong ?? (under(mostCutter, cutter) ? { kind: 'cutter-too-large', cutter, bore, mostCutter } : undefined)
  );
}

/** A round rod, solid or a tube, held at one end. */
export interface Rod {
  readonly diameter: Length;
  /** Hole through it; none when left out. */
  readonly hole?: Length;
  readonly length: Length;
  readonly material: RodMaterial;
}

/** Stiffness in gigapascals, density in kilograms a cubic metre. */
interface RodMaterial {
  readonly stiffness: number;
  readonly density: number;
}

/** Rounded handbook values, from memory; beech along the grain at about 12 % moisture. */
export const ROD_MATERIALS = {
  steel: { stiffness: 210, density: 7850 },
  brass: { stiffness: 100, density: 8500 },
  beech: { stiffness: 11.9, density: 720 },
} as const satisfies Readonly<Record<string, RodMaterial>>;

/** The first root of cos x cosh x = -1, for a bar held at one end (Blevins, Table 8-1; from memory). */
export const FIRST_ROOT = 1.87510407;
/** The part of its whirling speed up to which a rod may turn; our own margin. */
const SAFE_SHARE = 1 / 4;

/** What makes a bar shake: its length, bending stiffness EI and mass a length m, in metres, newtons and kilograms. */
interface Cantilever {
  readonly length: number;
  readonly bendingStiffness: number;
  readonly massPerLength: number;
}

/** First frequency of a slender bar held at one end, in hertz: (1.8751^2 / 2 pi) sqrt(EI / (m L^4)). */
export const firstFrequency = (bar: Cantilever): number =>
  (FIRST_ROOT ** 2 / (2 * Math.PI)) * Math.sqrt(bar.bendingStiffness / (bar.massPerLength * bar.length ** 4));

function barOf(rod: Rod): Cantilever {
  const [outer, inner] = [rod.diameter / 1000, (rod.hole ?? 0) / 1000];
  return {
    length: rod.length / 1000,
    bendingStiffness: rod.material.stiffness * 1e9 * (Math.PI / 64) * (outer ** 4 - inner ** 4),
    massPerLength: rod.material.density * (Math.PI / 4) * (outer ** 2 - inner ** 2),
  };
}

interface Whirl {
  readonly kind: 'whirl';
  /** Where the rod first whirls; an upper estimate, since no chuck holds an end as stiffly as the sum supposes. */
  readonly at: TurnsPerMinute;
  /** A quarter of it. */
  readonly mostSpeed: TurnsPerMinute;
}

/** The rod's whirling speed, or what is wrong with the rod. */
export function whirlOf(rod: Rod): Whirl | PlanRefusal {
  const hole = rod.hole ?? mm(0);
  const { stiffness, density } = rod.material;
  const wrong = notPositive({
    'rod diameter': rod.diameter,
    'length of rod standing out': rod.length,
    stiffness,
    density,
  });
  if (wrong) return wrong;
  if (!(hole >= 0)) return { kind: 'not-positive', what: 'hole through the rod', found: hole };
  if (hole >= rod.diameter)
    return { kind: 'not-positive', what: 'wall of the rod', found: (rod.diameter - hole) / 2 };
  const at = 60 * firstFrequency(barOf(rod));
  if (!(at > 0 && Number.isFinite(at))) return { kind: 'not-positive', what: 'whirling speed', found: at };
  return { kind: 'whirl', at: turnsPerMinute(at), mostSpeed: turnsPerMinute(at * SAFE_SHARE) };
}

/** Nothing when the rod may turn at this speed; otherwise the speed and the length that are possible (it whirls as 1 / L^2). */
export function rodWhirls(rod: Rod, asked: TurnsPerMinute): PlanRefusal | undefined {
  const whirl = whirlOf(rod);
  if (whirl.kind !== 'whirl') return whirl;
  const wrong = notPositive({ speed: asked });
  if (wrong) return wrong;
  if (!under(whirl.mostSpeed, asked)) return undefined;
  const mostLength = mm(rod.length * Math.sqrt(whirl.mostSpeed / asked));
  return { kind: 'rod-whirls', asked, whirl: whirl.at, mostSpeed: whirl.mostSpeed, mostLength };
}
