// What every simulated board does the same: time that the caller pushes, things planned for a board time, bytes joined to lines.

/** A line that the board sent, without its end, and the board time at which its first byte began. */
export interface SentLine {
  readonly text: string;
  readonly fromUs: number;
}

export type PortName = 'B' | 'C' | 'D';

/** One pin of the chip. */
export interface Pin {
  readonly port: PortName;
  readonly bit: number;
}

/** What a writer of waveforms needs of a board. */
export type Pins = Pick<PlannedBoard, 'us' | 'at' | 'drive'>;

interface Planned {
  readonly atUs: number;
  readonly order: number;
  readonly act: () => void;
}

/** Nothing happens by itself: `run` lets board time pass, as fast as the machine can. */
export abstract class PlannedBoard {
  readonly lines: SentLine[] = [];
  /** The latest first, so that the next is at the end. */
  readonly #plan: Planned[] = [];
  #planned = 0;
  #sorted = true;
  #text = '';
  #fromUs = 0;

  /** Board time since the first start, in microseconds; restarts do not set it back. */
  abstract get us(): number;
  /** Sets the level outside a pin, now. */
  abstract drive(pin: Pin, high: boolean): void;
  protected abstract runTo(us: number): void;
  protected abstract feedByte(byte: number): void;

  /** Has something done at a board time, which must not have passed. Actions of one moment keep their order. */
  at(us: number, act: () => void): void {
    if (us < this.us) throw new RangeError(`the board is at ${this.us} us already, past ${us}`);
    this.#plan.push({ atUs: us, order: this.#planned++, act });
    this.#sorted = false;
  }

  /** What the program sends, after what is already under way. */
  feedText(text: string): void {
    for (const byte of Buffer.from(text, 'latin1')) this.feedByte(byte);
  }

  /** Lets board time pass. */
  run(us: number): void {
    if (!(us >= 0)) throw new RangeError(`board time cannot go back by ${us} us`);
    const end = this.us + us;
    for (let next = this.#next(); next && next.atUs <= end; next = this.#next()) {
      this.#plan.pop();
      this.runTo(next.atUs);
      next.act();
    }
    this.runTo(end);
  }

  /** Lets time pass until a state is reached; throws when it is not within the ceiling. */
  runUntil(what: string, reached: () => boolean, ceilingUs = 2_000_000, stepUs = 100): void {
    const end = this.us + ceilingUs;
    while (!reached()) {
      if (this.us >= end) throw new Error(`not within ${ceilingUs} us of board time: ${what}`);
      this.run(stepUs);
    }
  }

  /** A byte that the board sends. */
  protected sent(byte: number): void {
    if (this.#text === '') this.#fromUs = this.us;
    if (byte !== 0x0a) {
      this.#text += String.fromCharCode(byte);
      return;
    }
    this.lines.push({ text: this.#text, fromUs: this.#fromUs });
    this.#text = '';
  }

  /** A restart cuts the line that is under way. */
  protected cutLine(): void {
    this.#text = '';
  }

  #next(): Planned | undefined {
    if (!this.#sorted) this.#plan.sort((a, b) => b.atUs - a.atUs || b.order - a.order);
    this.#sorted = true;
    return this.#plan.at(-1);
  }
}
