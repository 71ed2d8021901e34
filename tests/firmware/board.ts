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
import { type Image, keptImage, readImage } from './image.ts';
import { PlannedBoard } from './planned-board.ts';

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

/** What a restart of the chip replaces. */
interface Machine {
  readonly chip: Chip;
  readonly usart: AVRUSART;
  readonly ports: Readonly<Record<PortName, AVRIOPort>>;
}

/** The board. Every pin idles high, as the pull-ups make it. */
export class SimulatedBoard extends PlannedBoard {
  /** Each byte as the board begins to send it. */
  onByte: (byte: number) => void = () => {};
  /** Each interrupt as it is entered, by its vector's address in words. */
  onInterrupt: (vector: number) => void = () => {};
  readonly image: Image;
  #machine: Machine;
  readonly #levels = new Map<string, { readonly pin: Pin; readonly high: boolean }>();
  readonly #toBoard: number[] = [];

  /** `hex` is the text of an Intel HEX image. */
  constructor(hex: string, cause: Cause = 'power') {
    super();
    this.image = readImage(hex);
    this.#machine = this.#build(cause, 0);
  }

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

  /** A byte from the program to the board, after those already under way. */
  protected feedByte(byte: number): void {
    this.#toBoard.push(byte);
    if (!this.#machine.usart.rxBusy) this.#nextByte();
  }

  /** Restarts the chip; the pins keep their levels, a line under way is cut. */
  reset(cause: Cause = 'reset-pin'): void {
    this.#machine = this.#build(cause, this.#machine.chip.cycles);
    this.cutLine();
    this.#toBoard.length = 0;
    for (const { pin, high } of this.#levels.values()) this.drive(pin, high);
  }

  /** Makes the main loop hang at its next rest, as a fault would: only the watchdog can end it. */
  hang(): void {
    this.runUntil('the main loop rests', () => this.#machine.chip.asleep);
    const { chip } = this.#machine;
    chip.progMem[chip.pc] = STUCK;
  }

  protected runTo(us: number): void {
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
    usart.onByteTransmit = (byte) => {
      this.onByte(byte);
      this.sent(byte);
    };
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
}

/** A board with a kept image, before anything has run. */
export const keptBoard = (facts = 'bench-01', cause: Cause = 'power'): SimulatedBoard =>
  new SimulatedBoard(keptImage(facts), cause);

/** The same just started: its hello is sent. */
export function started(facts?: string, cause?: Cause): SimulatedBoard {
  const board = keptBoard(facts, cause);
  board.run(20_000);
  return board;
}
