// The simulated ATmega328P: avr8js with sleep, the datasheet's interrupt rules, and a record of what interrupts cost.
import { type AVRTimer, avrInstruction, CPU } from 'avr8js';

/** Held here because a look into another module at every instruction costs a sixth of the time. */
const execute = avrInstruction;

const SEI = 0x9478;
const RETI = 0x9518;
const SLEEP = 0x9588;
const SMCR = 0x53;
const TIMSK1 = 0x6f;
const OCR1A = 0x88;
const OCR1B = 0x8a;
const OCIE1B = 4;
const CYCLES_PER_COUNT = 64;
const SLEEP_ENABLED = 1;
const RAM_BYTES = 2048;
const RAM_START = 0x100;
/** Fills the memory before a start, so that memory never written can be recognised. */
const PAINT = 0xa5;

interface DueEvent {
  at: number;
  callback: () => void;
}

/**
 * avr8js skips SLEEP, and enters an interrupt right after SEI and RETI; on the chip the next instruction runs first.
 * It also counts 2 cycles for entering an interrupt where the datasheet says 4, and 4 more out of sleep.
 */
export class Chip extends CPU {
  /** The watchdog has restarted the chip: this object is spent, its owner builds another. */
  restarted = false;
  asleep = false;
  /** The longest each interrupt took, in cycles, from its entry to the end of its RETI; by its vector's address in words. */
  readonly worst = new Map<number, number>();
  /** The free-running timer whose comparisons wake the chip. */
  timer: AVRTimer | undefined;
  readonly #due: DueEvent[] = [];
  #nextAt = Number.POSITIVE_INFINITY;
  #vector = -1;
  #entered = 0;

  constructor(words: Uint16Array) {
    super(words, RAM_BYTES);
    this.data.fill(PAINT, RAM_START);
  }

  override reset(): void {
    super.reset();
    this.restarted = true;
  }

  /** Latest first, so that the next one is at the end. */
  override addClockEvent(callback: () => void, cycles: number): () => void {
    const at = this.cycles + Math.max(1, cycles);
    let place = this.#due.length;
    while (place > 0 && (this.#due[place - 1]?.at ?? 0) < at) place--;
    this.#due.splice(place, 0, { at, callback });
    this.#nextAt = this.#due.at(-1)?.at ?? at;
    return callback;
  }

  override clearClockEvent(callback: () => void): boolean {
    const place = this.#due.findIndex((event) => event.callback === callback);
    if (place >= 0) this.#due.splice(place, 1);
    this.#nextAt = this.#due.at(-1)?.at ?? Number.POSITIVE_INFINITY;
    return place >= 0;
  }

  override updateClockEvent(callback: () => void, cycles: number): boolean {
    const found = this.clearClockEvent(callback);
    if (found) this.addClockEvent(callback, cycles);
    return found;
  }

  /** Runs until the given cycle, or until the watchdog restarts the chip. */
  runTo(stop: number): void {
    while (this.cycles < stop && !this.restarted) {
      if (this.asleep) this.#doze(stop);
      else this.#step();
    }
  }

  /** The most memory that was ever in use: data and the deepest stack. */
  memoryUsed(): number {
    let longest = 0;
    let run = 0;
    for (let address = RAM_START; address < RAM_START + RAM_BYTES; address++) {
      run = this.data[address] === PAINT ? run + 1 : 0;
      longest = Math.max(longest, run);
    }
    return RAM_BYTES - longest;
  }

  #step(): void {
    const opcode = this.progMem[this.pc];
    execute(this);
    if (this.#nextAt <= this.cycles) this.#happen();
    if (opcode === RETI) this.#left();
    if (opcode === SEI || opcode === RETI) return;
    if (opcode === SLEEP && (this.data[SMCR] ?? 0) & SLEEP_ENABLED) this.asleep = true;
    if (this.nextInterrupt >= 0 && this.interruptsEnabled) this.#enter();
  }

  /** An interrupt ends sleep; till then nothing runs, so time jumps to what happens next. */
  #doze(stop: number): void {
    if (this.nextInterrupt >= 0 && this.interruptsEnabled) {
      this.#enter();
      return;
    }
    this.cycles = Math.min(stop, this.#wakesAt());
    this.#happen();
  }

  /** The timer asks to be called at every count, but in sleep only a count that compares equal matters. */
  #wakesAt(): number {
    const next = this.#due.at(-1);
    if (!next || !this.timer || next.callback !== this.timer.count) return this.#nextAt;
    const looks = ((this.data[TIMSK1] ?? 0) & OCIE1B) !== 0;
    const counts = Math.min(this.#countsTo(OCR1A), looks ? this.#countsTo(OCR1B) : 0xffff);
    const equal = next.at + (Math.max(1, counts) - 1) * CYCLES_PER_COUNT;
    return Math.min(equal, this.#due.at(-2)?.at ?? equal);
  }

  #countsTo(comparison: number): number {
    return (this.dataView.getUint16(comparison, true) - (this.timer?.debugTCNT ?? 0)) & 0xffff;
  }

  #happen(): void {
    for (let next = this.#due.at(-1); next && next.at <= this.cycles; next = this.#due.at(-1)) {
      this.#due.pop();
      next.callback();
    }
    this.#nextAt = this.#due.at(-1)?.at ?? Number.POSITIVE_INFINITY;
  }

  #enter(): void {
    this.#vector = this.nextInterrupt;
    this.#entered = this.cycles;
    this.tick();
    this.cycles += this.asleep ? 6 : 2;
    this.asleep = false;
  }

  #left(): void {
    const took = this.cycles - this.#entered;
    if (took > (this.worst.get(this.#vector) ?? 0)) this.worst.set(this.#vector, took);
  }
}
