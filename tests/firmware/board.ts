// A simulated board that runs a firmware image: time is pushed by the caller, pins and bytes go in, bytes come out.
import {
  AVRClock,
  AVRIOPort,
  AVRTimer,
  AVRUSART,
  AVRWatchdog,
  portBConfig,
  portCConfig,
  portDConfig,
  timer1Config,
  usart0Config,
  watchdogConfig,
} from 'avr8js';
import { Chip } from './chip.ts';
import { type Image, readImage } from './image.ts';

const HERTZ = 16_000_000;
const CYCLES_PER_US = 16;
const MCUSR = 0x54;
const STUCK = 0xcfff; // rjmp to itself

/** Why the chip starts, as its reset register says it. */
export type Cause = 'power' | 'reset-pin' | 'brown-out' | 'watchdog';
const CAUSE_BITS: Readonly<Record<Cause, number>> = { power: 1, 'reset-pin': 2, 'brown-out': 4, watchdog: 8 };

export type PortName = 'B' | 'C' | 'D';

/** One pin of the chip. */
export interface Pin {
  readonly port: PortName;
  readonly bit: number;
}

/** A line that the board sent, without its end, and the board time at which its first byte began. */
export interface SentLine {
  readonly text: string;
  readonly fromUs: number;
}

interface Planned {
  readonly atUs: number;
  readonly order: number;
  readonly act: () => void;
}

const latestFirst = (a: Planned, b: Planned): number => b.atUs - a.atUs || b.order - a.order;

/** What a restart of the chip replaces. */
interface Machine {
  readonly chip: Chip;
  readonly usart: AVRUSART;
  readonly ports: Readonly<Record<PortName, AVRIOPort>>;
}

/**
 * The board. Nothing happens by itself: `run` lets board time pass, as fast as the machine can, so a caller that wants
 * real time calls it with the microseconds that have gone by. Every pin idles high, as the pull-ups make it.
 */
export class SimulatedBoard {
  /** Each byte as the board begins to send it. */
  onByte: (byte: number) => void = () => {};
  /** Each interrupt as it is entered, by its vector's address in words. */
  onInterrupt: (vector: number) => void = () => {};
  readonly lines: SentLine[] = [];
  readonly image: Image;
  #machine: Machine;
  readonly #levels = new Map<string, { readonly pin: Pin; readonly high: boolean }>();
  readonly #plan: Planned[] = [];
  #planned = 0;
  #sorted = true;
  readonly #toBoard: number[] = [];
  #text = '';
  #fromUs = 0;

  /** `hex` is the text of an Intel HEX image. */
  constructor(hex: string, cause: Cause = 'power') {
    this.image = readImage(hex);
    this.#machine = this.#build(cause, 0);
  }

  /** Board time since the first start, in microseconds; restarts do not set it back. */
  get us(): number {
    return this.#machine.chip.cycles / CYCLES_PER_US;
  }

  /** The most memory in use since the last restart, in bytes. */
  get memoryUsed(): number {
    return this.#machine.chip.memoryUsed();
  }

  /** The longest each interrupt took since the last restart, in cycles, by its vector's address in words. */
  get worstInterrupts(): ReadonlyMap<number, number> {
    return this.#machine.chip.worst;
  }

  /** Sets the level outside a pin, now. */
  drive(pin: Pin, high: boolean): void {
    this.#levels.set(`${pin.port}${pin.bit}`, { pin, high });
    this.#machine.ports[pin.port].setPin(pin.bit, high);
  }

  /** Has something done at a board time, which must not have passed. Actions of one moment keep their order. */
  at(us: number, act: () => void): void {
    if (us < this.us) throw new RangeError(`the board is at ${this.us} us already, past ${us}`);
    this.#plan.push({ atUs: us, order: this.#planned++, act });
    this.#sorted = false;
  }

  /** A byte from the program to the board, after those already under way. */
  feedByte(byte: number): void {
    this.#toBoard.push(byte);
    if (!this.#machine.usart.rxBusy) this.#nextByte();
  }

  feedText(text: string): void {
    for (const byte of Buffer.from(text, 'latin1')) this.feedByte(byte);
  }

  /** Lets board time pass. */
  run(us: number): void {
    if (!(us >= 0)) throw new RangeError(`board time cannot go back by ${us} us`);
    const end = this.us + us;
    for (let next = this.#nextPlanned(); next && next.atUs <= end; next = this.#nextPlanned()) {
      this.#plan.pop();
      this.#runTo(next.atUs);
      next.act();
    }
    this.#runTo(end);
  }

  /** Lets time pass until a state is reached; throws when it is not within the ceiling. */
  runUntil(what: string, reached: () => boolean, ceilingUs = 2_000_000): void {
    const end = this.us + ceilingUs;
    while (!reached()) {
      if (this.us >= end) throw new Error(`not within ${ceilingUs} us of board time: ${what}`);
      this.run(100);
    }
  }

  /** Restarts the chip; the pins keep their levels, a line under way is cut. */
  reset(cause: Cause = 'reset-pin'): void {
    this.#machine = this.#build(cause, this.#machine.chip.cycles);
    this.#text = '';
    this.#toBoard.length = 0;
    for (const { pin, high } of this.#levels.values()) this.drive(pin, high);
  }

  /** Makes the main loop hang at its next rest, as a fault would: only the watchdog can end it. */
  hang(): void {
    this.runUntil('the main loop rests', () => this.#machine.chip.asleep);
    const { chip } = this.#machine;
    chip.progMem[chip.pc] = STUCK;
  }

  #nextPlanned(): Planned | undefined {
    if (!this.#sorted) this.#plan.sort(latestFirst);
    this.#sorted = true;
    return this.#plan.at(-1);
  }

  #runTo(us: number): void {
    const stop = Math.round(us * CYCLES_PER_US);
    while (this.#machine.chip.cycles < stop) {
      this.#machine.chip.runTo(stop);
      if (this.#machine.chip.restarted) this.reset('watchdog');
    }
  }

  #build(cause: Cause, cycles: number): Machine {
    const chip = new Chip(this.image.words.slice());
    const ports = {
      B: new AVRIOPort(chip, portBConfig),
      C: new AVRIOPort(chip, portCConfig),
      D: new AVRIOPort(chip, portDConfig),
    };
    for (const port of Object.values(ports)) for (let bit = 0; bit < 8; bit++) port.setPin(bit, true);
    chip.cycles = cycles;
    chip.timer = new AVRTimer(chip, timer1Config);
    new AVRWatchdog(chip, watchdogConfig, new AVRClock(chip, HERTZ));
    const usart = new AVRUSART(chip, usart0Config, HERTZ);
    usart.onByteTransmit = (byte) => this.#send(byte);
    usart.onRxComplete = () => this.#nextByte();
    chip.onInterrupt = (vector) => this.onInterrupt(vector);
    chip.data[MCUSR] = CAUSE_BITS[cause];
    chip.restarted = false;
    return { chip, usart, ports };
  }

  #nextByte(): void {
    const byte = this.#toBoard.shift();
    if (byte !== undefined) this.#machine.usart.writeByte(byte);
  }

  #send(byte: number): void {
    this.onByte(byte);
    if (this.#text === '') this.#fromUs = this.us;
    if (byte !== 0x0a) {
      this.#text += String.fromCharCode(byte);
      return;
    }
    this.lines.push({ text: this.#text, fromUs: this.#fromUs });
    this.#text = '';
  }
}
