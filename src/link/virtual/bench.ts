// The virtual bench: a simulated turner, caliper, lathe and feed wheel behind a board that sends bench lines.
// Everything follows from the seed, the activities and the time it is given; it reads no clock and uses no other random numbers.
import type { ButtonName } from '../../core/bench/event.ts';
import type { Truth } from '../../core/bench/teaching.ts';
import { inInches, type Length, type LengthUnit, type Millis, millis, mm } from '../../core/units.ts';
import { type BoardMessage, encode } from '../../wire/encode.ts';
import { type Chance, createChance } from './chance.ts';
import {
  type Activity,
  type HandStep,
  handStepsOf,
  type Move,
  movesOf,
  nudged,
  PUT_IN,
  type Workshop,
} from './hand.ts';
import { fed, freshWork, touchedOff } from './lathe.ts';

const VIRTUAL_BOARD = 'virtual-1';
/** Milliseconds from one caliper frame to the next: eight a second, as many calipers send (common practice, no source). */
const FRAME = 125;
const FEED_EVERY = 1000;
/** One reading in this many is damaged or lost on its way, so that the counts have something to show. */
const DAMAGED_ONE_IN = 220;
const LOST_ONE_IN = 400;
/** How long a finger stays on a button, in milliseconds. */
const PRESSED = 90;
/** The board's button that goes to the next word at a trial. */
const AGAIN: ButtonName = 2;
/** A shaving as thick as this is easily overlooked, and spoils a fit: our own choice. */
const CHIP = 0.2;
/** A second and a half of the caliper: the number doesn't change for that long, and isn't stale yet. */
const BAD_LINES = 12;

interface Sent {
  readonly at: Millis;
  /** One line without its end, sometimes damaged. */
  readonly line: string;
}

export interface VirtualSettings {
  readonly seed: number;
  /** The true bore; drawn from the seed where none is given. */
  readonly bore?: Length;
  readonly unit?: LengthUnit;
  /** What the caliper shows with its jaws closed; drawn from the seed where none is given. */
  readonly zeroError?: Length;
  /** False for a line on which nothing is ever damaged or lost. */
  readonly noise?: boolean;
}

/** Sets the chance of the wood apart from that of the hands: any number does. */
const LATHE = 0x5bd1e995;

interface Due {
  readonly at: number;
  readonly happens: () => void;
}

export class VirtualBench {
  readonly #settings: VirtualSettings;
  readonly #chance: Chance;
  readonly #shop: Workshop;
  readonly #unit: LengthUnit;
  readonly #zeroError: Length;
  /** What will happen, soonest first. */
  readonly #due: Due[] = [];
  #now = 0;
  #seq = 0;
  #detents = 0;
  #activity: Activity = { doing: 'rest' };
  #moves: Iterator<Move>;
  #move: Move = { lasts: 0, opening: () => 60 };
  #moveBegan = 0;
  #sent: Sent[] = [];
  /** Readings that are still to be damaged on their way. */
  #spoiled = 0;

  constructor(settings: VirtualSettings) {
    this.#settings = settings;
    this.#chance = createChance(settings.seed);
    const lathe = createChance(settings.seed ^ LATHE);
    this.#shop = {
      chance: this.#chance,
      lathe,
      work: freshWork(lathe, settings.bore),
      chip: 0,
      sentTo: PUT_IN,
    };
    this.#unit = settings.unit ?? 'mm';
    this.#zeroError = settings.zeroError ?? mm(Math.round(this.#chance.spread(0.8)) / 100);
    this.#moves = movesOf(this.#activity, this.#shop, () => 60);
    this.#at(3, () => this.#hello());
    this.#at(20, () => this.#frame());
    this.#at(40, () => this.#feed());
  }

  /** Lets this many milliseconds pass; gives what the board sent in them, in order, each line at its own time. */
  advance(by: number): readonly Sent[] {
    const until = this.#now + by;
    for (let next = this.#due[0]; next && next.at <= until; next = this.#due[0]) {
      this.#due.shift();
      this.#now = next.at;
      next.happens();
    }
    this.#now = until;
    return this.#sent.splice(0);
  }

  /** What the turner does from now on; the same activity again starts over. */
  follow(activity: Activity): void {
    if (activity.doing !== 'rock-bore') this.#shop.chip = 0;
    const before = this.#activity;
    if (before.doing === 'touch-off' && activity.doing === 'feed-in')
      this.#shop.work = touchedOff(this.#shop.work, before.part);
    const left = this.#opening();
    this.#activity = { ...activity };
    this.#moves = movesOf(this.#activity, this.#shop, () => this.#opening());
    this.#move = { lasts: 0, opening: () => left };
    this.#moveBegan = this.#now;
    this.#turn(handStepsOf(this.#activity, this.#chance), this.#activity);
  }

  /** Another piece of wood: a new bore, and a spigot not begun. */
  newBlank(): void {
    this.#shop.work = freshWork(this.#shop.lathe, this.#settings.bore);
    this.#shop.sentTo = PUT_IN;
  }

  /** Sends the jaws one way across the bore, where the turner rocks by key. */
  nudge(way: -1 | 1): void {
    this.#shop.sentTo = nudged(this.#shop.sentTo, way);
  }

  /** A chip is caught under a jaw: the bore reads small until the turner does something else. */
  catchChip(): void {
    this.#shop.chip = CHIP;
    if (this.#activity.doing === 'rock-bore') this.follow(this.#activity);
  }

  /** The next readings arrive damaged. */
  damageLines(): void {
    this.#spoiled = BAD_LINES;
  }

  /** The handle was spun faster than the board can count. */
  loseCount(): void {
    this.#at(this.#now, () => this.#send({ kind: 'FA', code: 'feed-overrun' }));
  }

  /** The spigot takes up moisture, or gives it off: larger by this on the diameter. */
  swell(by: Length): void {
    const { work } = this.#shop;
    if (work.spigot !== undefined) this.#shop.work = { ...work, spigot: work.spigot + by };
  }

  /** Presses one of the board's buttons and releases it. */
  press(button: ButtonName): void {
    this.#at(this.#now, () => this.#send({ kind: 'PB', button, down: true }));
    this.#at(this.#now + PRESSED, () => this.#send({ kind: 'PB', button, down: false }));
  }

  /** The program asked which board this is. */
  ask(): void {
    this.#at(this.#now, () => this.#hello());
  }

  /** What only the simulation knows: for tests, and for showing how close the turner came. */
  truth(): Truth & { readonly zeroError: Length } {
    const { bore, spigot, grooves } = this.#shop.work;
    const depth = { female: mm(grooves.female.depth), male: mm(grooves.male.depth) };
    return {
      bore: mm(bore),
      spigot: spigot === undefined ? null : mm(spigot),
      depth,
      zeroError: this.#zeroError,
    };
  }

  #at(time: number, happens: () => void): void {
    this.#due.push({ at: time, happens });
    this.#due.sort((a, b) => a.at - b.at);
  }

  #send(message: BoardMessage): void {
    const line = encode(message, this.#seq++, this.#now);
    const noisy = this.#settings.noise !== false && message.kind === 'DI';
    if (noisy && this.#chance.once(LOST_ONE_IN)) return;
    const spoiled = message.kind === 'DI' && this.#spoiled > 0;
    if (spoiled) this.#spoiled -= 1;
    const isDamaged = spoiled || (noisy && this.#chance.once(DAMAGED_ONE_IN));
    this.#sent.push({
      at: millis(this.#now),
      line: isDamaged ? damaged(line, this.#chance.share()) : line,
    });
  }

  #hello(): void {
    const parts = ['caliper', 'feed', 'button'];
    this.#send({ kind: 'HI', firmware: '1.0.0', board: VIRTUAL_BOARD, parts });
  }

  #frame(): void {
    this.#moveOn();
    const shown = this.#opening() + this.#zeroError + this.#chance.spread(0.002);
    this.#send({ kind: 'DI', text: display(shown, this.#unit), unit: this.#unit });
    this.#at(this.#now + FRAME + Math.round(this.#chance.spread(2)), () => this.#frame());
  }

  #feed(): void {
    this.#send({ kind: 'FE', total: this.#detents });
    this.#at(this.#now + FEED_EVERY, () => this.#feed());
  }

  #turn([first, ...rest]: readonly HandStep[], activity: Activity): void {
    if (!first) return;
    this.#at(this.#now + first.after, () => {
      if (activity !== this.#activity) return;
      if (first.by === 0) this.press(AGAIN);
      else this.#feedOn(first.by, activity);
      this.#turn(rest, activity);
    });
  }

  #feedOn(by: 1 | -1, activity: Activity): void {
    if ('part' in activity) this.#shop.work = fed(this.#shop.work, activity.part, by);
    this.#detents += by;
    this.#send({ kind: 'FE', total: this.#detents });
  }

  #opening(): number {
    return this.#move.opening(Math.min((this.#now - this.#moveBegan) / Math.max(this.#move.lasts, 1), 1));
  }

  #moveOn(): void {
    while (this.#now >= this.#moveBegan + this.#move.lasts) {
      const ended = this.#moveBegan + this.#move.lasts;
      const next = this.#moves.next();
      if (next.done) throw new TypeError('an activity has no last move');
      this.#move = next.value;
      this.#moveBegan = ended;
    }
  }
}

/** One step of the caliper's display, in its own unit. */
const STEP: { readonly [unit in LengthUnit]: number } = { mm: 0.01, in: 0.0005 };
const DECIMALS: { readonly [unit in LengthUnit]: number } = { mm: 2, in: 4 };

/** The display's digits for an opening in millimetres, rounded to whole steps as the caliper itself does. */
function display(opening: number, unit: LengthUnit): string {
  const value = unit === 'mm' ? opening : inInches(mm(opening));
  const steps = Math.round(value / STEP[unit]);
  return (steps * STEP[unit]).toFixed(DECIMALS[unit]).replace(/^-(0\.0+)$/, '$1');
}

/** The line with one bit of one byte flipped. */
function damaged(line: string, where: number): string {
  const place = Math.floor(where * line.length);
  const flipped = String.fromCharCode(line.charCodeAt(place) ^ 0x04);
  return line.slice(0, place) + flipped + line.slice(place + 1);
}
