// The built bench on a device that misbehaves: what it showed, what it kept, how busy it was, and how it left the terminal.
import { expect, onTestFinished } from 'vitest';
import { readingFigure } from '../../src/core/figures.ts';
import { type LengthUnit, length, mm } from '../../src/core/units.ts';
import { bigNumber } from './big-digits.ts';
import type { BoardSettings } from './board.ts';
import { type Day, openDay } from './day.ts';
import { type FaultyDevice, openFaultyDevice } from './faulty-device.ts';
import { ticksOf } from './processor.ts';
import type { Eye, Opening } from './terminal.ts';

/** What stands above the number while it is what the caliper shows. */
export const LIVE = 'jaws now';
/** Rounds of one look at the processor: the device counts them out, so that a loaded machine only makes them longer. */
const BEATS = 40;
const BEAT_MS = 25;
/** Ticks that either count may be off, and how many times the rest a busy program may use: spinning is above ten times. */
const SLACK = 4;
const BUSY_AT_MOST = 5;

interface Kept {
  readonly entries: readonly {
    readonly atMs: number;
    readonly fact: {
      readonly kind: string;
      readonly diameterMm?: number;
      readonly mark?: { readonly total: number };
    };
    readonly readings: readonly { readonly raw: string }[];
  }[];
}

/** A clock that a test can set back. */
const CLOCK = new URL('settable-clock.mjs', import.meta.url).href;

export class FaultyBench {
  readonly day: Day;
  readonly device: FaultyDevice;
  readonly eye: Eye;
  /** Numbers that stood on the screen as what the jaws read. */
  readonly shown = new Set<string>();
  #rest = 0;

  private constructor(day: Day, device: FaultyDevice, eye: Eye) {
    this.day = day;
    this.device = device;
    this.eye = eye;
    eye.emulator.terminal.onWriteParsed(() => {
      const number = bigNumber(eye.screen(), LIVE);
      if (number !== undefined) this.shown.add(number);
    });
  }

  /** A job begun at the bore, with a caliper that lies open; all of it ends with the test. */
  static async begun(settings?: BoardSettings, opening?: Opening): Promise<FaultyBench> {
    const bench = await FaultyBench.opened(settings, opening);
    const { eye } = bench;
    await eye.untilShown('to begin a job');
    await eye.beginJob('faulty');
    await eye.goes([() => bench.device.holds(40), LIVE]);
    return bench;
  }

  static async opened(settings?: BoardSettings, opening: Opening = {}): Promise<FaultyBench> {
    const device = await openFaultyDevice(settings);
    onTestFinished(() => device.close());
    const day = openDay().withFeed();
    const env = { NODE_OPTIONS: `--import ${CLOCK}`, ...opening.env };
    const eye = day.open(device, { ...opening, env });
    const bench = new FaultyBench(day, device, eye);
    await device.pair.waitForReceived('?');
    await device.hello();
    await eye.untilShown(device.id);
    return bench;
  }

  /** A bore rocked until its peaks agree. */
  rocksBore(rocks = 5): Promise<void> {
    // With its figure: the word alone may still be the flash of the capture before.
    return this.eye.goes([() => this.device.rock(42.3, rocks), /STEADY +\d/]);
  }

  /** The device behaves: a bore is rocked, its peaks agree, and it is kept. */
  async takesBore(): Promise<void> {
    await this.startsOver();
    await this.rocksBore();
    await this.eye.goes(['\r', 'KEPT']);
  }

  /** Starts the capture over until its trace is gone: readings that were still on their way may have begun another. */
  async startsOver(): Promise<void> {
    const traceOn = (screen: readonly string[]): string => screen.join('').replace(/[^\u2801-\u28ff]/g, '');
    for (let trace = traceOn(this.eye.screen()); trace !== ''; trace = traceOn(this.eye.screen())) {
      this.eye.press('a');
      await this.eye.until('another trace', (screen) => traceOn(screen) !== trace);
    }
  }

  /** Takes the kept bore back, so that the jaws' reading is on the screen again. */
  async undoesBore(): Promise<void> {
    this.eye.press('u');
    await this.eye.until('no kept bore', (screen) => !screen.join('').includes('as kept'));
  }

  /** Goes to a stage by next and back. */
  async goes(to: string): Promise<void> {
    await this.eye.until('the strip of stages', (screen) => screen[1]?.includes('◆') ?? false);
    for (let steps = 0; steps < 8 && !this.eye.text().includes(`◆${to}`); steps++) {
      const before = this.eye.screen()[1];
      this.eye.press(this.#isBehind(to) ? 'n' : 'b');
      await this.eye.until(
        'another stage',
        (screen) => screen[1] !== before && screen.join('').includes('◆'),
      );
    }
    await this.eye.untilShown(`◆${to}`);
  }

  #isBehind(to: string): boolean {
    const strip = this.eye.screen()[1] ?? '';
    return strip.indexOf('◆') < strip.indexOf(to);
  }

  /** Processor ticks over a count of rounds that the device beats. */
  async ticks(): Promise<number> {
    const before = ticksOf(this.eye.pid);
    await this.device.pair.play(BEAT_MS, new Array<string>(BEATS).fill(''));
    return ticksOf(this.eye.pid) - before;
  }

  /** Notes how busy the program is now, while nothing is wrong. */
  async measuresRest(): Promise<void> {
    this.#rest = await this.ticks();
  }

  /** The program rests as it did before the fault: no core spins. */
  async rests(): Promise<void> {
    const ratio = ((await this.ticks()) + SLACK) / (this.#rest + SLACK);
    expect(ratio, 'busy after the fault, as a multiple of before').toBeLessThan(BUSY_AT_MOST);
  }

  /** Every number that ever stood on the screen as what the jaws read was sent, whole and right. */
  showedOnlyWhatWasSent(unit: LengthUnit = 'mm'): void {
    const sent = this.device.values.map((value) => {
      const step = value.unit === 'mm' ? mm(0.01) : length(0.0005, 'in');
      return readingFigure(length(Number(value.text), value.unit), step, unit);
    });
    expect([...this.shown].filter((number) => !sent.includes(number))).toEqual([]);
    expect(this.shown.size).toBeGreaterThan(0);
  }

  async leaves(): Promise<void> {
    this.eye.press('q');
    expect(await this.eye.ended()).toEqual({ code: 0, signal: 0 });
    this.leftTheTerminalAsFound();
  }

  /** First screen, cursor shown, nothing that names windows or clipboards was ever written. */
  leftTheTerminalAsFound(): void {
    const raw = this.eye.raw();
    expect(this.eye.emulator.onAlternateScreen).toBe(false);
    expect(raw.lastIndexOf('\x1b[?25h')).toBeGreaterThan(raw.lastIndexOf('\x1b[?25l'));
    for (const never of ['owned', '\x1b]', '\x1bc', '\x9b']) expect(raw).not.toContain(never);
  }

  /** The record holds these facts in this order, among others, and no reading that was not sent. */
  async kept(...kinds: readonly string[]): Promise<Kept> {
    const { code, out, err } = await this.day.run('jobs', 'show', '1', '--json');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const job = JSON.parse(out) as Kept;
    const facts = job.entries.map(({ fact }) => fact.kind);
    expect(facts.filter((kind) => kinds.includes(kind))).toEqual(kinds);
    const raws = job.entries.flatMap(({ readings }) => readings.map(({ raw }) => raw));
    expect(raws.filter((raw) => !this.device.sent.has(raw))).toEqual([]);
    for (const { fact } of job.entries)
      if (fact.kind === 'bore-taken') expect(Math.abs((fact.diameterMm ?? 0) - 42.3)).toBeLessThan(0.02);
    return job;
  }
}
