// A simulated RP2040 that runs the kept image of its board: pins go in, bytes come out, time is pushed by the caller.
import { readFileSync } from 'node:fs';
import { RP2040, Simulator } from 'rp2040js';
import { type Pin, PlannedBoard } from './planned-board.ts';

const IMAGES = new URL('../../firmware-notes/reference/image/rp2040/', import.meta.url);
const BLOCK = 512;
const FLASH = 0x1000_0000;
/** Where the chip's own boot code copies the first 256 bytes of flash, to run them there. */
const BOOT2_COPY = 0x2004_1f00;
const NANOS_PER_CYCLE = 1e9 / 48_000_000;

/** The simulator's watchdog, whose type it doesn't export, by its place among the peripherals. */
const WATCHDOG = 0x40058;
interface Watchdog {
  reason: number;
  onWatchdogTrigger: () => void;
  writeUint32(offset: number, value: number): void;
}

interface Block {
  readonly at: number;
  readonly bytes: Uint8Array;
}

/** The payloads of a UF2 image; throws on any other block. */
function blocksOf(image: Buffer): readonly Block[] {
  return Array.from({ length: image.length / BLOCK }, (_, n) => {
    const block = image.subarray(n * BLOCK, (n + 1) * BLOCK);
    const marks = [0, 4, 508].map((at) => block.readUInt32LE(at));
    if (marks.join() !== [0x0a324655, 0x9e5d5157, 0x0ab16f30].join())
      throw new Error(`block ${n} is not a UF2 block`);
    if (block.readUInt32LE(20) !== n) throw new Error(`block ${n} has another number`);
    return { at: block.readUInt32LE(12), bytes: block.subarray(32, 32 + block.readUInt32LE(16)) };
  });
}

/** Pins are those of the chip: `bit` is the number of the GPIO, and the port is ignored. Every pin idles high. */
export class SimulatedRp2040 extends PlannedBoard {
  #clock = new Simulator().clock;
  #chip: RP2040;
  /** When the chip at work started, and whether its watchdog has bitten. */
  #startedUs = 0;
  #bitten = false;
  readonly #image: readonly Block[];
  readonly #levels = new Map<number, boolean>();

  constructor(facts: string) {
    super();
    this.#image = blocksOf(readFileSync(new URL(`${facts}.uf2`, IMAGES)));
    this.#chip = this.#start();
  }

  get us(): number {
    return this.#startedUs + this.#clock.nanos / 1000;
  }

  drive(pin: Pin, high: boolean): void {
    this.#levels.set(pin.bit, high);
    this.#chip.gpio[pin.bit]?.setInputValue(high);
  }

  protected feedByte(byte: number): void {
    this.#chip.uart[0]?.feedByte(byte);
  }

  /** Hangs the main loop at its next rest, as a fault would: only the watchdog can end it. */
  hang(): void {
    this.runUntil('the main loop rests', () => this.#chip.core.waiting, 2_000, 1);
    const pc = this.#chip.core.PC;
    this.#chip.sramView.setUint16(pc - 0x2000_0000, 0xe7fe, true); // a branch to itself
    this.#chip.core.waiting = false;
  }

  protected runTo(us: number): void {
    while (this.us < us) {
      if (this.#bitten) this.#chip = this.#start();
      const { core } = this.#chip;
      const end = (us - this.#startedUs) * 1000;
      if (core.waiting) {
        this.#clock.tick(Math.max(1, Math.min(this.#clock.nanosToNextAlarm, end - this.#clock.nanos)));
      } else {
        this.#clock.tick(core.executeInstruction() * NANOS_PER_CYCLE);
      }
    }
  }

  /** A chip with its own clock: the alarms of the one before must not go off in it. */
  #start(): RP2040 {
    this.#startedUs = this.us;
    this.#clock = new Simulator().clock;
    this.cutLine();
    const chip = new RP2040(this.#clock);
    for (const { at, bytes } of this.#image) chip.flash.set(bytes, at - FLASH);
    chip.sram.set(chip.flash.subarray(0, 256), BOOT2_COPY - 0x2000_0000);
    chip.core.PC = BOOT2_COPY;
    for (const [n, pin] of chip.gpio.entries()) pin.setInputValue(this.#levels.get(n) ?? true);
    const watchdog = chip.peripherals[WATCHDOG] as unknown as Watchdog;
    watchdog.reason = this.#bitten ? 1 : 0;
    this.#bitten = false;
    watchdog.onWatchdogTrigger = () => {
      watchdog.writeUint32(0, 0); // or it bites again and again
      this.#bitten = true;
    };
    const uart = chip.uart[0];
    if (!uart) throw new Error('the simulated chip has no serial port');
    uart.onByte = (byte) => this.sent(byte);
    return chip;
  }
}
