// The far end of the whole chain: the kept image runs on simulated pins, its serial port is joined to a real pseudo-terminal.
import { button, keptBoard } from '../firmware/board.ts';
import { bounce } from '../firmware/noise.ts';
import { CaliperWriter, type Damage, NPN } from '../firmware/waveform.ts';
import { QuadratureWheel } from '../firmware/wheel.ts';
import { type Chance, fastChanceFrom } from './chance.ts';
import { rocked } from './readings.ts';
import { openSerialPair, type SerialPair } from './serial-pair.ts';

/** A fast caliper: twenty frames a second. */
const FRAME_US = 50_000;
const SLICE_US = 25_000;
const PULSE_MS = 40;

/** What the jaws stand at for one frame, in hundredths of a millimetre, and what happens to it on the leads. */
export interface Frame {
  readonly steps: number;
  readonly damage?: Damage;
}

const frameOf = (value: number): Frame => ({ steps: Math.round(value * 100) });

/** The frame with one data level flipped: on the leads that is, edge for edge, the frame of another value. */
export const flipped = ({ steps }: Frame, bit: number): Frame => ({ steps: steps ^ (1 << bit) });

/** Frames of this many rocks across a bore. */
export const rockOf = (diameter: number, rocks: number): readonly Frame[] =>
  rocked(diameter, rocks).map(frameOf);

/**
 * Left alone it lives in real time, its caliper showing what it showed last; what a hand does is played as fast as the
 * simulator goes. Each hand's move settles when everything the board said meanwhile is on the line.
 */
export class LoopedBoard {
  readonly chip = keptBoard();
  readonly pair: SerialPair;
  readonly #chance: Chance = fastChanceFrom(17);
  readonly #caliper = new CaliperWriter(this.chip, NPN, this.#chance);
  readonly #wheel = new QuadratureWheel(this.chip, this.#chance);
  readonly #coming: Frame[] = [];
  readonly #said: number[] = [];
  readonly #pulse: NodeJS.Timeout;
  #shown: Frame = { steps: 1 }; // the board doesn't believe 0.00 before the data lead has moved
  #nextFrameUs = 30_000;
  #heard = 0;
  #livedMs = performance.now();
  #moves: Promise<void> = Promise.resolve();
  #waiting = 0;

  constructor(pair: SerialPair) {
    this.pair = pair;
    this.chip.onByte = (byte) => this.#said.push(byte);
    this.#pulse = setInterval(() => this.#live(), PULSE_MS);
  }

  get path(): string {
    return this.pair.devicePath;
  }

  /** Shows these frames one after the other, and goes on showing the last. */
  shows(frames: readonly Frame[]): Promise<void> {
    return this.#move(() => {
      this.#coming.push(...frames);
      return (frames.length + 1) * FRAME_US;
    });
  }

  /** The same value for this many frames. */
  holds(value: number, frames = 6): Promise<void> {
    return this.shows(Array.from({ length: frames }, () => frameOf(value)));
  }

  /** Turns the feed wheel, bouncing; a detent takes a tenth of a second. */
  feed(detents: number): Promise<void> {
    return this.#move(() => this.#wheel.turn(detents, this.chip.us, 100_000, 3) - this.chip.us + 50_000);
  }

  /** A finger on a button, whose contact bounces both ways. */
  press(name: 1 | 2 | 3 | 4): Promise<void> {
    return this.#move(() => {
      bounce(this.chip, button(name), false, this.chip.us, 5, this.#chance);
      bounce(this.chip, button(name), true, this.chip.us + 120_000, 5, this.#chance);
      return 240_000;
    });
  }

  /** The reset button, pressed while a line is on its way: its rest never comes. */
  resetInsideLine(): Promise<void> {
    return this.#move(() => {
      const length = this.#said.length;
      this.chip.runUntil('a line is half said', () => {
        const last = this.#said.at(-1);
        return this.#said.length > length + 4 && last !== undefined && last !== 0x0a;
      });
      this.chip.reset();
      return 100_000;
    });
  }

  /** The firmware hangs, as a fault would make it; its watchdog restarts it. */
  hang(): Promise<void> {
    return this.#move(() => {
      this.chip.hang();
      return 400_000;
    });
  }

  async close(): Promise<void> {
    clearInterval(this.#pulse);
    await this.pair.close();
    await this.#moves.catch(() => undefined); // a move that was under way has lost its line
  }

  /** One move at a time; each plans what happens and says how long it takes, in microseconds of board time. */
  #move(plan: () => number): Promise<void> {
    this.#waiting++;
    const done = this.#moves.then(() => this.#pass(plan())).finally(() => this.#waiting--);
    this.#moves = done;
    return done;
  }

  #live(): void {
    const now = performance.now();
    const goneMs = now - this.#livedMs;
    this.#livedMs = now;
    if (this.#waiting > 0) return;
    // What goes wrong here is reported by the next move, which waits for this one.
    this.#move(() => goneMs * 1000).catch(() => undefined);
  }

  async #pass(us: number): Promise<void> {
    const end = Math.ceil(this.chip.us + us); // whole, since the chip's time goes by whole cycles
    while (this.chip.us < end) {
      const sliceUs = Math.min(SLICE_US, end - this.chip.us);
      this.#hear();
      this.#show(this.chip.us + sliceUs);
      this.chip.run(sliceUs);
      await this.pair.write(Uint8Array.from(this.#said.splice(0)));
    }
  }

  /** What the program has sent goes into the board's serial port. */
  #hear(): void {
    const received = this.pair.received();
    this.chip.feedText(received.slice(this.#heard));
    this.#heard = received.length;
  }

  #show(untilUs: number): void {
    while (this.#nextFrameUs < untilUs) {
      const { steps, damage } = this.#coming.shift() ?? this.#shown;
      this.#shown = { steps };
      const atUs = Math.max(this.#nextFrameUs, this.chip.us);
      this.#caliper.show({ steps }, atUs, damage);
      this.#nextFrameUs = atUs + FRAME_US;
    }
  }
}

export const openLoopedBoard = async (): Promise<LoopedBoard> => new LoopedBoard(await openSerialPair());
