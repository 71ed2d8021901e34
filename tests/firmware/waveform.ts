// Writes caliper frames as a caliper puts them on its two leads, with jitter and with the damage that leads do.
import type { Chance } from '../support/chance.ts';
import type { Pin, Pins } from './planned-board.ts';

/** What a caliper shows, in its own steps of 0.01 mm or 0.0005 in. */
export interface Shown {
  readonly steps: number;
  readonly negative?: boolean;
  readonly inch?: boolean;
}

/**
 * The kinds of damage that a board must never take for another value. `clock-spike` is too short to be an edge, so the frame is
 * read all the same.
 */
export const SEEN_DAMAGE = [
  'edge-lost',
  'edge-added',
  'edge-lost-and-added',
  'cut-short',
  'clock-spike',
] as const;

/** What may happen to a frame. `level-flipped` leaves the rhythm whole: the board can't see it, and reports another value. */
export type Damage = (typeof SEEN_DAMAGE)[number] | 'level-flipped';

/** The largest value that the kept images believe, in steps of 0.01 mm and of 0.0005 in. */
export const LONGEST = { mm: 32_000, inch: 25_196 } as const;

/** A caliper's rhythm: microseconds from bit to bit and between groups, and by what share each edge may be off. */
interface Rhythm {
  readonly bitUs: number;
  readonly gapUs: number;
  readonly jitter: number;
}

const RHYTHM: Rhythm = { bitUs: 370, gapUs: 740, jitter: 0.03 };

const BITS = 24;
const GROUP = 4;

/** One pulse: data takes its level as the clock lead falls, and is read as it rises. */
interface Pulse {
  readonly fallUs: number;
  readonly riseUs: number;
  /** Undefined for a stray pulse, which leaves data as it is. */
  readonly level?: boolean;
  /** True for a pulse that never reaches the board. */
  readonly lost?: true;
}

/** The 24 levels of a frame, least significant first. */
export function levelsOf({ steps, negative = false, inch = false }: Shown): readonly boolean[] {
  const bits = steps + (negative ? 2 ** 20 : 0) + (inch ? 2 ** 23 : 0);
  return Array.from({ length: BITS }, (_, n) => Math.floor(bits / 2 ** n) % 2 === 1);
}

/** What the board must send for it: the value as shown and its unit. A caliper's minus zero is zero. */
export function fieldsOf({ steps, negative = false, inch = false }: Shown): string {
  const sign = negative && steps > 0 ? '-' : '';
  return inch ? `${sign}${((steps * 5) / 10_000).toFixed(4)},in` : `${sign}${(steps / 100).toFixed(2)},mm`;
}

function pulsesOf(levels: readonly boolean[], { bitUs, gapUs, jitter }: Rhythm, chance: Chance): Pulse[] {
  let readUs = bitUs;
  return levels.map((level, n) => {
    if (n > 0) readUs += n % GROUP === 0 ? gapUs : bitUs;
    const riseUs = readUs + chance.between(-jitter, jitter) * bitUs;
    return { fallUs: riseUs - bitUs * chance.between(0.45, 0.55), riseUs, level };
  });
}

/** Adds a pulse somewhere between the clock's own. */
function added(pulses: readonly Pulse[], widthUs: number, chance: Chance): Pulse[] {
  const clocked = pulses.filter((pulse) => !pulse.lost);
  const n = chance.below(clocked.length - 1);
  const from = (clocked[n]?.riseUs ?? 0) + 15;
  const to = (clocked[n + 1]?.fallUs ?? from) - 15 - widthUs;
  const fallUs = chance.between(from, Math.max(from, to));
  return [...pulses, { fallUs, riseUs: fallUs + widthUs }];
}

function lost(pulses: readonly Pulse[], chance: Chance): Pulse[] {
  const n = chance.below(BITS);
  return pulses.map((pulse, place) => (place === n ? { ...pulse, lost: true } : pulse));
}

function harmed(pulses: readonly Pulse[], damage: Damage, chance: Chance): readonly Pulse[] {
  switch (damage) {
    case 'edge-lost':
      return lost(pulses, chance);
    case 'edge-added':
      return added(pulses, chance.between(60, 120), chance);
    case 'edge-lost-and-added':
      return added(lost(pulses, chance), chance.between(60, 120), chance);
    case 'cut-short':
      return pulses.slice(0, 1 + chance.below(BITS - 1));
    case 'clock-spike':
      return added(pulses, chance.between(2, 12), chance);
    case 'level-flipped': {
      const flipped = chance.below(20);
      return pulses.map((pulse, n) => (n === flipped ? { ...pulse, level: !pulse.level } : pulse));
    }
    default:
      return damage satisfies never;
  }
}

/** How the caliper's leads reach the chip. */
interface CaliperWiring {
  readonly clock: Pin;
  readonly data: Pin;
  /** True behind NPN stages, which invert both leads. */
  readonly inverted: boolean;
}

/** Clock and data of the kept images. */
export const CLOCK_PIN: Pin = { port: 'D', bit: 2 };
export const DATA_PIN: Pin = { port: 'D', bit: 4 };

/** The kept images' caliper, behind transistors. */
export const NPN: CaliperWiring = { clock: CLOCK_PIN, data: DATA_PIN, inverted: true };

/** Puts frames on a board's pins. The clock lead rests high at the caliper. */
export class CaliperWriter {
  readonly #board: Pins;
  readonly #wiring: CaliperWiring;
  readonly #chance: Chance;
  readonly #rhythm: Rhythm;

  constructor(board: Pins, wiring: CaliperWiring, chance: Chance, rhythm: Rhythm = RHYTHM) {
    this.#board = board;
    this.#wiring = wiring;
    this.#chance = chance;
    this.#rhythm = rhythm;
    this.#drive(wiring.clock, true);
    this.#drive(wiring.data, false);
  }

  /** Plans one frame to begin at a board time; returns when its last reading edge comes, in microseconds. */
  show(shown: Shown, atUs: number, damage?: Damage): number {
    const whole = pulsesOf(levelsOf(shown), this.#rhythm, this.#chance);
    const pulses = damage ? harmed(whole, damage, this.#chance) : whole;
    for (const { fallUs, riseUs, level, lost: unseen } of pulses) {
      if (level !== undefined) this.#board.at(atUs + fallUs, () => this.#drive(this.#wiring.data, level));
      if (unseen) continue;
      this.#board.at(atUs + fallUs, () => this.#drive(this.#wiring.clock, false));
      this.#board.at(atUs + riseUs, () => this.#drive(this.#wiring.clock, true));
    }
    return atUs + Math.max(...pulses.map((pulse) => pulse.riseUs));
  }

  #drive(pin: Pin, high: boolean): void {
    this.#board.drive(pin, high !== this.#wiring.inverted);
  }
}
