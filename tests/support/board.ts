// A board for tests, on the far end of a real serial pair: it sends bench lines with its own SEQ and MS, as fast as the test asks.
import { type BoardMessage, encode } from '../../src/wire/encode.ts';
import { rocked } from './readings.ts';
import { openSerialPair, type SerialPair } from './serial-pair.ts';

/** A board that has said who it is says where its feed stands once it has been silent this long. */
const STANDS_AFTER_MS = 1000;

export interface BoardSettings {
  readonly id?: string;
  /** Board milliseconds between two caliper readings; 125 is 8 readings a second. */
  readonly frameMs?: number;
  readonly unit?: 'mm' | 'in';
}

export class TestBoard {
  readonly pair: SerialPair;
  readonly id: string;
  readonly #frameMs: number;
  readonly #unit: 'mm' | 'in';
  #seq = 0;
  #ms = 0;
  #total = 0;
  #standing: NodeJS.Timeout | undefined;

  constructor(pair: SerialPair, { id = 'test-01', frameMs = 125, unit = 'mm' }: BoardSettings = {}) {
    this.pair = pair;
    this.id = id;
    this.#frameMs = frameMs;
    this.#unit = unit;
  }

  get path(): string {
    return this.pair.devicePath;
  }

  /** One line as it goes out; its SEQ is used up. */
  line(said: BoardMessage, afterMs = 5): string {
    this.#ms += afterMs;
    const line = encode(said, this.#seq, this.#ms);
    this.#seq = (this.#seq + 1) % 0x10000;
    this.#standing?.refresh();
    return `${line}\n`;
  }

  say(said: BoardMessage, afterMs?: number): Promise<void> {
    return this.pair.write(this.line(said, afterMs));
  }

  protected hi(board = this.id): BoardMessage {
    return { kind: 'HI', firmware: '0.1.0', board, parts: ['caliper', 'feed', 'button'] };
  }

  /** Who it is, and where its feed stands. */
  async hello(): Promise<void> {
    await this.say(this.hi());
    await this.say({ kind: 'FE', total: this.#total });
    this.#standing ??= setInterval(() => void this.stands().catch(() => undefined), STANDS_AFTER_MS);
  }

  /** Restarts, as after a reset: SEQ and MS from the beginning, the feed total gone. */
  restart(): Promise<void> {
    this.startsOver();
    return this.hello();
  }

  protected startsOver(): void {
    this.#seq = 0;
    this.#ms = 0;
    this.#total = 0;
  }

  text(value: number): string {
    return this.#unit === 'mm' ? value.toFixed(2) : (Math.round(value * 2000) / 2000).toFixed(4);
  }

  /** Where the feed stands; into nothing where the board is unplugged or closed. */
  stands(): Promise<void> {
    return this.say({ kind: 'FE', total: this.#total }, 1000);
  }

  readingLine(value: number): string {
    return this.line({ kind: 'DI', text: this.text(value), unit: this.#unit }, this.#frameMs);
  }

  /** Readings of these values, one a frame. */
  reads(...values: readonly number[]): Promise<void> {
    return this.pair.write(values.map((value) => this.readingLine(value)).join(''));
  }

  /** The same value held for this many frames. */
  holds(value: number, frames = 5): Promise<void> {
    return this.reads(...Array.from({ length: frames }, () => value));
  }

  /** This many rocks across a bore. */
  rock(diameter: number, rocks = 4): Promise<void> {
    return this.reads(...rocked(diameter, rocks, this.#unit === 'mm' ? 1 : 1 / 25.4));
  }

  /** Turns the feed by this many detents, one line each. */
  async feed(detents: number): Promise<void> {
    const step = Math.sign(detents);
    for (let turned = 0; turned < Math.abs(detents); turned++) {
      this.#total += step;
      await this.say({ kind: 'FE', total: this.#total }, 80);
    }
  }

  async press(button: 1 | 2 | 3 | 4): Promise<void> {
    await this.say({ kind: 'PB', button, down: true }, 40);
    await this.say({ kind: 'PB', button, down: false }, 90);
  }

  /** Sends nothing more by itself: the test uses its line by hand. */
  goSilent(): void {
    clearInterval(this.#standing);
  }

  close(): Promise<void> {
    this.goSilent();
    return this.pair.close();
  }
}

/** A board plugged in, silent until the test makes it speak. */
export const openBoard = async (settings?: BoardSettings): Promise<TestBoard> =>
  new TestBoard(await openSerialPair(), settings);
