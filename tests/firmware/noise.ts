// Puts noise on a board's leads: spikes at a steady or a random rate, contacts that chatter, bursts of edges.
import type { Chance } from '../support/chance.ts';
import type { Pin, Pins } from './planned-board.ts';

/** Plans a contact that goes to a level: this many changes, of which all but one are bounces. */
export function bounce(
  board: Pins,
  pin: Pin,
  high: boolean,
  atUs: number,
  changes: number,
  chance: Chance,
): void {
  for (let n = 0, us = atUs; n < changes; n++, us += chance.between(100, 900))
    board.at(us, () => board.drive(pin, (n % 2 === 0) === high));
}

/** Spikes on one lead or on several at once. */
interface Spikes {
  readonly pins: readonly Pin[];
  readonly widthUs: number;
  readonly perSecond: number;
  /** Spikes at even times, as an inverter makes them; else at random ones. */
  readonly even: boolean;
}

/** After each change of this lead its contact goes back and forth once, this long each way. */
interface Chatter {
  readonly pin: Pin;
  readonly backUs: number;
}

const keyOf = ({ port, bit }: Pin): string => `${port}${bit}`;

/** The leads of a board as noise leaves them: what a waveform drives, turned over for the length of a spike. */
export class NoisyLeads implements Pins {
  readonly #board: Pins;
  readonly #chance: Chance;
  readonly #clean = new Map<string, boolean>();
  readonly #spiked = new Map<string, number>();
  #chatter: Chatter | undefined;

  constructor(board: Pins, chance: Chance) {
    this.#board = board;
    this.#chance = chance;
  }

  get us(): number {
    return this.#board.us;
  }

  at(us: number, act: () => void): void {
    this.#board.at(us, act);
  }

  drive(pin: Pin, high: boolean): void {
    const changed = this.#clean.get(keyOf(pin)) !== high;
    this.#clean.set(keyOf(pin), high);
    this.#show(pin);
    const chatter = this.#chatter;
    if (!changed || !chatter || keyOf(chatter.pin) !== keyOf(pin)) return;
    this.#spike([pin], this.us + chatter.backUs, chatter.backUs);
  }

  chatterOn(chatter: Chatter): void {
    this.#chatter = chatter;
  }

  /** Plans spikes for a while from now on. */
  spike({ pins, widthUs, perSecond, even }: Spikes, forUs: number): void {
    const periodUs = 1_000_000 / perSecond;
    const end = this.us + forUs;
    for (let us = this.us + this.#chance.between(0, periodUs); us < end; us += this.#wait(periodUs, even)) {
      this.#spike(pins, us, widthUs);
    }
  }

  /** Plans a burst of edges at random times, `least` to `most` microseconds apart. */
  burst(pin: Pin, forUs: number, least: number, most: number): void {
    const end = this.us + forUs;
    for (let us = this.us; us < end; ) {
      const widthUs = this.#chance.between(least, most);
      this.#spike([pin], us, widthUs);
      us += widthUs + this.#chance.between(least, most);
    }
  }

  #wait(periodUs: number, even: boolean): number {
    return even ? periodUs : -periodUs * Math.log(1 - this.#chance.between(0, 1));
  }

  #spike(pins: readonly Pin[], us: number, widthUs: number): void {
    for (const pin of pins) {
      this.at(us, () => this.#turn(pin, 1));
      this.at(us + widthUs, () => this.#turn(pin, -1));
    }
  }

  #turn(pin: Pin, by: 1 | -1): void {
    this.#spiked.set(keyOf(pin), (this.#spiked.get(keyOf(pin)) ?? 0) + by);
    this.#show(pin);
  }

  /** A pin that nothing has driven yet rests high. */
  #show(pin: Pin): void {
    const clean = this.#clean.get(keyOf(pin)) ?? true;
    this.#board.drive(pin, clean !== (this.#spiked.get(keyOf(pin)) ?? 0) > 0);
  }
}
