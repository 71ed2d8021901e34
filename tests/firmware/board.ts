// A simulated board that runs a kept firmware image: time is pushed by the caller, pins and bytes go in, bytes come out.
import { readFileSync } from 'node:fs';
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
import { type Pin, PlannedBoard, type PortName } from './planned-board.ts';

const HERTZ = 16_000_000;
export const CYCLES_PER_US = 16;
const MCUSR = 0x54;
const STUCK = 0xcfff; // rjmp to itself

/** Why the chip starts, as its reset register says it. */
export type Cause = 'power' | 'reset pin' | 'brown-out' | 'watchdog';
const CAUSE_BITS: Readonly<Record<Cause, number>> = { power: 1, 'reset pin': 2, 'brown-out': 4, watchdog: 8 };

/** The pin of a button, 1 to 4. */
export const button = (name: number): Pin => ({ port: 'C', bit: name + 1 });

const FLASH_BYTES = 32 * 1024;

/** The text of a kept image, by the name of its facts. */
const keptImage = (facts: string): string =>
  readFileSync(
    new URL(`../../firmware-notes/reference/image/atmega328p/${facts}.hex`, import.meta.url),
    'utf8',
  );

interface Image {
  readonly words: Uint16Array;
  /** Bytes of flash that the image fills. */
  readonly bytes: number;
}

/** Reads data and end records; throws on a damaged or any other record, since a wrong image would test nothing. */
function readImage(hex: string): Image {
  const flash = new Uint8Array(FLASH_BYTES).fill(0xff);
  let bytes = 0;
  for (const row of hex.trim().split(/\r?\n/)) {
    const record = Uint8Array.from(row.slice(1).match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
    const [count = 0, high = 0, low = 0, kind] = record;
    const sum = record.reduce((total, byte) => total + byte, 0) & 0xff;
    if (!row.startsWith(':') || record.length !== count + 5 || sum !== 0)
      throw new Error(`bad record: ${row}`);
    if (kind === 1) return { words: new Uint16Array(flash.buffer), bytes };
    if (kind !== 0) throw new Error(`a kind of record not known here: ${row}`);
    flash.set(record.subarray(4, 4 + count), (high << 8) | low);
    bytes += count;
  }
  throw new Error('the image has no end record');
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
    return this.chip.cycles / CYCLES_PER_US;
  }

  /** The chip since the last restart. */
  get chip(): Chip {
    return this.#machine.chip;
  }

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
  reset(cause: Cause = 'reset pin'): void {
    this.#machine = this.#build(cause, this.chip.cycles);
    this.cutLine();
    this.#toBoard.length = 0;
    for (const { pin, high } of this.#levels.values()) this.drive(pin, high);
  }

  /** Makes the main loop hang at its next rest, as a fault would: only the watchdog can end it. */
  hang(): void {
    this.runUntil('the main loop rests', () => this.chip.asleep);
    const { chip } = this;
    chip.progMem[chip.pc] = STUCK;
  }

  protected runTo(us: number): void {
    const stop = Math.round(us * CYCLES_PER_US);
    while (this.chip.cycles < stop) {
      this.chip.runTo(stop);
      if (this.chip.restarted) this.reset('watchdog');
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
