// The bench screen from start to end: it puts records, line, runner and terminal together, and closes them all again.
import type { Entry } from '../../core/bench/entry.ts';
import type { BenchEvent } from '../../core/bench/event.ts';
import { jobOf } from '../../core/bench/job.ts';
import type { Kit, Setup } from '../../core/bench/setup.ts';
import { type Bench, type Cue, onlyTimePassed } from '../../core/bench/state.ts';
import { startBench } from '../../core/bench/step.ts';
import type { Teaching, TeachingOrder } from '../../core/bench/teaching.ts';
import type { LengthUnit, Millis } from '../../core/units.ts';
import type { Link } from '../../link/link.ts';
import type { Records } from '../../records/jobs.ts';
import type { ExitCode } from '../command.ts';
import { jobStoreIn } from './job-store.ts';
import { type Devices, joinLine } from './line.ts';
import { type Edges, Runner } from './runner.ts';
import { isVirtual, VirtualShop, type VirtualShopSettings, virtualKit } from './virtual.ts';

/** How often the clock is looked at: silence and stale readings are seen within this. */
const TICK_MS = 500;

/** What shows the bench and hears the turner's hands; the terminal, or plain sentences. */
export interface Display {
  show(bench: Bench): void;
  sound(cue: Cue): void;
  close(): void;
}

/** How the bench begins: on a virtual bench or on a line, with a job or to practise rocking. */
export interface StartOptions extends Omit<VirtualShopSettings, 'now'> {
  readonly virtual: boolean;
}

/** On a line, with the jobs that are there. */
export const ON_A_LINE: StartOptions = { virtual: false, seed: 1, mishaps: [], practice: false };

export interface BenchSettings extends StartOptions, Pick<Edges, 'writeSheet' | 'keepFeed'> {
  readonly records: Records;
  readonly unit: LengthUnit;
  readonly devices: Devices;
  /** The time that the bench lives in: the host's own, or a trace's. */
  readonly now: () => Millis;
  /** A job that is begun as the bench opens. */
  readonly begin?: Setup;
  /** Called once, after the first frame. Null: wait for a port, and offer the virtual bench. */
  readonly findLink: () => Promise<Link | null>;
  /** Called every few seconds while there is no link; answers one when a board was plugged in. */
  readonly seekLink: () => Promise<Link | null>;
  readonly kit: () => Kit;
  /** Entries that were never saved: the whole log is put where a file can still be written. */
  readonly rescue: (log: readonly Entry[], unsaved: number) => void;
  readonly display: (dispatch: (event: BenchEvent) => void, bench: () => Bench, fail: () => void) => Display;
}

/** The virtual board says its units, and counts up as its cutter goes deeper. */
const VIRTUAL_DEVICES: Devices = { bareUnit: 'mm', deeper: 'up' };
/** A simulated feed is never saved beside the turner's own. */
const VIRTUAL_FEED = 'this feed is simulated, so it is not saved; on a real bench it would go into your kit';
const SEEK_EVERY_TICKS = 6;
/** At rest only a count of seconds can change: it is drawn this often. */
const REST_EVERY_TICKS = 4;
const REST_AFTER_MS = 10_000;

/** Nothing was heard and nothing flashed for a while: time alone changes hardly anything on the screen. */
const isAtRest = ({ now, live, cue }: Bench): boolean =>
  now - (live?.heardAt ?? -REST_AFTER_MS) >= REST_AFTER_MS &&
  now - (cue?.at ?? -REST_AFTER_MS) >= REST_AFTER_MS;
/** A reading was drawn since the last tick, and no flash has to be taken back: time alone adds nothing yet. */
const isJustDrawn = ({ now, live, cue }: Bench): boolean =>
  now - (live?.heardAt ?? -TICK_MS) < TICK_MS && now - (cue?.at ?? -REST_AFTER_MS) > 3 * TICK_MS;
/** Open jobs looked through for one that fits the line. */
const RESUMABLE = 20;

/** Runs until the turner leaves; settles with the exit code. */
export function openBench(settings: BenchSettings): Promise<ExitCode> {
  return new Promise((resolve) => new OpenBench(settings, resolve));
}

class OpenBench {
  readonly #settings: BenchSettings;
  readonly #ended: (code: ExitCode) => void;
  readonly #runner: Runner;
  readonly #display: Display;
  readonly #timer: NodeJS.Timeout;
  #line: ReturnType<typeof joinLine> | null = null;
  #virtual: VirtualShop | null = null;
  #ticks = 0;
  #left = false;

  constructor(settings: BenchSettings, ended: (code: ExitCode) => void) {
    this.#settings = settings;
    this.#ended = ended;
    const keeping = jobStoreIn(settings.records);
    const bench = startBench(settings.now(), Date.now(), settings.unit);
    this.#runner = new Runner(
      bench,
      {
        ...keeping,
        kit: () => ({
          kit: this.#virtual ? virtualKit(settings.unit) : settings.kit(),
          last: this.#virtual ? null : keeping.last(),
        }),
        writeSheet: settings.writeSheet,
        keepFeed: (feed) => (this.#virtual ? { trouble: VIRTUAL_FEED } : settings.keepFeed(feed)),
        sound: (cue) => this.#display.sound(cue),
        startVirtual: () => this.#startVirtual(),
        teach: (order) => this.#teach(order),
        quit: () => void this.#quit(),
      },
      (changed, before) => this.#changed(changed, before),
    );
    const dispatch = (event: BenchEvent): void => this.#runner.dispatch(event);
    this.#display = settings.display(
      dispatch,
      () => this.#runner.bench,
      () => void this.#quit(1),
    );
    if (settings.virtual) this.#startVirtual();
    this.#timer = setInterval(() => this.#tick(), TICK_MS);
    if (settings.practice) dispatch({ kind: 'practice-opened', measuring: settings.kit().measuring });
    else if (settings.begin) dispatch({ kind: 'lessons-found', setup: settings.begin, learned: null });
    else this.#resume(settings.virtual ? 'virtual' : 'real');
    this.#display.show(this.#runner.bench);
    if (!settings.virtual) setImmediate(() => void this.#plugIn());
  }

  /** The port at the start. With no port, an open job of the virtual bench may go on. */
  async #plugIn(): Promise<void> {
    const link = await this.#settings.findLink().catch(() => null);
    if (this.#left || this.#virtual || this.#line) return;
    if (link) this.#join(link);
    else if (!this.#runner.bench.job && this.#runner.bench.mode.kind === 'welcome') this.#resume('virtual');
  }

  /** The real or virtual job left open last is on the bench again, exactly where it was. */
  #resume(which: 'real' | 'virtual'): void {
    const { records } = this.#settings;
    const open = records.list({ state: 'open', limit: RESUMABLE });
    for (const { id } of open.ok ? open.value.jobs : []) {
      const log = records.entriesOf(id);
      const job = log.ok ? jobOf(log.value) : undefined;
      if (!log.ok || !job || isVirtual(job) !== (which === 'virtual')) continue;
      if (which === 'virtual') this.#startVirtual();
      this.#runner.dispatch({ kind: 'job-opened', log: log.value });
      return;
    }
  }

  #join(link: Link): void {
    const { devices } = this.#settings;
    const hear = (event: BenchEvent): void => this.#runner.dispatch(event);
    this.#line = joinLine(link, this.#virtual ? VIRTUAL_DEVICES : devices, hear, () => this.#now());
  }

  #startVirtual(): void {
    // A bench that was opened for one job, such as a replay, stays on the line that it came with.
    if (this.#virtual || this.#settings.begin) return;
    void this.#line?.close();
    this.#virtual = new VirtualShop(this.#settings);
    this.#join(this.#virtual.link);
    this.#lead(this.#runner.bench);
    this.#display.show(this.#runner.bench);
  }

  #changed(bench: Bench, before: Bench): void {
    this.#lead(bench);
    const idle = onlyTimePassed(before, bench);
    const resting = idle && isAtRest(bench) && this.#ticks % REST_EVERY_TICKS !== 0;
    if (!resting && !(idle && isJustDrawn(bench))) this.#display.show(bench);
  }

  /** Tells the virtual turner what to do next. */
  #lead(bench: Bench): void {
    const teaching = this.#virtual?.lead(bench);
    if (teaching && teaching !== bench.teaching)
      this.#runner.dispatch({ kind: 'teaching-changed', teaching });
  }

  #teach(order: TeachingOrder): Teaching {
    if (!this.#virtual) throw new TypeError(`nobody to ${order}: the virtual bench is not open`);
    return this.#virtual.order(order, this.#runner.bench);
  }

  /** The time that the bench lives in: the virtual bench's can be slowed and stopped. */
  #now(): Millis {
    return this.#virtual?.link.now() ?? this.#settings.now();
  }

  #tick(): void {
    this.#line?.tick();
    this.#runner.dispatch({ kind: 'ticked', now: this.#now(), wall: Date.now() });
    this.#ticks += 1;
    if (!this.#line && this.#ticks % SEEK_EVERY_TICKS === 0) void this.#seek();
  }

  async #seek(): Promise<void> {
    const link = await this.#settings.seekLink().catch(() => null);
    if (link && !this.#left && !this.#line) this.#join(link);
  }

  async #quit(code: 0 | 1 = 0): Promise<void> {
    this.#left = true; // a port that is found from now on is not opened
    clearInterval(this.#timer);
    const { unsaved, log } = this.#runner.bench;
    const saved = unsaved.length === 0 || this.#settings.records.appendAll(unsaved).ok;
    this.#display.close();
    await this.#line?.close();
    if (!saved) this.#settings.rescue(log, unsaved.length);
    this.#settings.records.close();
    this.#ended(saved ? code : 3);
  }
}
