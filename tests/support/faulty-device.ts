// A device that misbehaves by name, on the far end of a real serial pair, and that remembers every whole line it sent.
import type { BoardMessage } from '../../src/wire/encode.ts';
import { sealed } from '../../src/wire/encode.ts';
import { type BoardSettings, TestBoard } from './board.ts';
import { openSerialPair } from './serial-pair.ts';

/** Sequences that would clear the screen, leave it, rename the window and write into the clipboard. */
const ESCAPES = '\x1b[2J\x1b[?1049l\x1b[?25h\x1b]0;owned\x07\x1b]52;c;b3duZWQ=\x07\x9b31m\x1bc';

export class FaultyDevice extends TestBoard {
  /** Every line that was sent whole and right: the only ones a record may hold. */
  readonly sent = new Set<string>();
  /** Values of the readings among them, as sent. */
  readonly values: { readonly text: string; readonly unit: 'mm' | 'in' }[] = [];

  override line(said: BoardMessage, afterMs?: number): string {
    const line = super.line(said, afterMs);
    this.sent.add(line.trimEnd());
    if (said.kind === 'DI') this.values.push({ text: said.text, unit: said.unit });
    return line;
  }

  /** A line that is made and then damaged, or never sent: its SEQ is used up. */
  #spoilt(said: BoardMessage): string {
    const line = super.line(said, 125);
    return line.trimEnd();
  }

  #reading(value: number): BoardMessage {
    return { kind: 'DI', text: this.text(value), unit: 'mm' };
  }

  /** Loses whole lines on the way. */
  async drops(value: number, lost: number): Promise<void> {
    for (let count = 0; count < lost; count++) this.#spoilt(this.#reading(value + 5));
    await this.reads(value);
  }

  /** Sends one line several times over. */
  async repeats(value: number, times: number): Promise<void> {
    await this.pair.write(this.readingLine(value).repeat(times));
  }

  /** Damages one byte of each line, which would read as another number. */
  async garbles(value: number, lines: number): Promise<void> {
    for (let count = 0; count < lines; count++) {
      const whole = this.#spoilt(this.#reading(value));
      const digit = whole.indexOf('.') - 1;
      const other = (Number(whole[digit]) + 1 + (count % 8)) % 10;
      await this.pair.write(`${whole.slice(0, digit)}${other}${whole.slice(digit + 1)}\n`);
    }
  }

  /** Sends byte by byte, a pause after each. */
  async splits(...values: readonly number[]): Promise<void> {
    await this.pair.play(1, [...values.map((value) => this.readingLine(value)).join('')]);
  }

  /** As many lines as the port takes, one board millisecond apart. */
  async floods(value: number, lines: number): Promise<void> {
    const said = this.#reading(value);
    await this.pair.write(Array.from({ length: lines }, () => this.line(said, 1)).join(''));
  }

  /** Feed totals that change with every line, as fast as the port takes them. */
  async floodsFeed(lines: number): Promise<void> {
    const totals = Array.from({ length: lines }, (_, at) => this.line({ kind: 'FE', total: at % 7 }, 1));
    await this.pair.write(totals.join(''));
  }

  /** Says hello as another board, in the same breath. */
  becomes(board: string): Promise<void> {
    return this.say(this.hi(board));
  }

  /** Says that it speaks another version, and goes on sending readings that look like ours. */
  async liesAboutVersion(version: string, value: number): Promise<void> {
    await this.pair.write(
      `${this.#spoilt({ kind: 'HI', firmware: '9.0.0', board: this.id, parts: ['caliper'], version })}\n`,
    );
    for (let count = 0; count < 4; count++) await this.pair.write(`${this.#spoilt(this.#reading(value))}\n`);
  }

  /** Escape sequences by themselves, inside lines, and inside lines whose checksum is right. */
  async sendsEscapes(): Promise<void> {
    const whole = this.#spoilt(this.#reading(47.11));
    const sealedEscape = sealed(`HI,${this.#counts()},1,0.1.0,${ESCAPES},caliper`);
    await this.pair.write(`${ESCAPES}\n${whole.slice(0, 9)}${ESCAPES}${whole.slice(9)}\n${sealedEscape}\n`);
  }

  /** The next SEQ and MS as they stand in a line. */
  #counts(): string {
    return this.#spoilt(this.#reading(47.11)).split(',').slice(1, 3).join(',');
  }

  /** Bytes as a wrong speed makes them, the same each time. */
  async speaksNoise(bytes: number): Promise<void> {
    const noise = Uint8Array.from({ length: bytes }, (_, at) => ((at * 2654435761) >>> 13) & 0xff);
    await this.pair.write(noise);
    await this.pair.write('\n');
  }

  /** The same numbers in the other unit, as after its unit key. */
  async switchesUnit(...millimetres: readonly number[]): Promise<void> {
    const lines = millimetres.map((value) => {
      const text = (Math.round((value / 25.4) * 2000) / 2000).toFixed(4);
      return this.line({ kind: 'DI', text, unit: 'in' }, 125);
    });
    await this.pair.write(lines.join(''));
  }

  /** Restarts between two feed lines, and its hello is lost: only SEQ, MS and the total show it. */
  async restartsUnheard(): Promise<void> {
    this.startsOver();
    this.#spoilt(this.hi());
    await this.feed(1);
  }

  /** SEQ and MS that run backwards, line by line. */
  async countsBackwards(value: number, lines: number): Promise<void> {
    const bodies = Array.from(
      { length: lines },
      (_, at) => `DI,${500 - at},${9000 - at * 125},${this.text(value)},mm`,
    );
    for (const body of bodies) {
      this.sent.add(sealed(body));
      this.values.push({ text: this.text(value), unit: 'mm' });
    }
    await this.pair.write(bodies.map((body) => `${sealed(body)}\n`).join(''));
  }

  /** Kinds, codes and fields of a later time: valid, and beyond this program. */
  async speaksOfLaterThings(): Promise<void> {
    await this.pair.write(`${sealed(`ZZ,${this.#counts()},1,2,3`)}\n`);
  }

  /** The tail of a line of which the rest is never sent, then gone at once. */
  async goesMidLine(value: number): Promise<void> {
    await this.pair.writeAndUnplug(this.readingLine(value) + this.#spoilt(this.#reading(value)).slice(0, 14));
  }
}

export const openFaultyDevice = async (settings?: BoardSettings): Promise<FaultyDevice> =>
  new FaultyDevice(await openSerialPair(), settings);
