// A bench without a machine: the pure step with its effects answered from memory, for tests of the rules alone.

import { Runner } from '../../src/commands/bench/runner.ts';
import type { FeedFound } from '../../src/core/bench/calibration/model.ts';
import type { Entry, Fact, KeptReading } from '../../src/core/bench/entry.ts';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import { type Job, type JobLine, jobOf } from '../../src/core/bench/job.ts';
import type { Kit, Setup } from '../../src/core/bench/setup.ts';
import type { Bench, KeepQuestion, Refusal } from '../../src/core/bench/state.ts';
import { startBench } from '../../src/core/bench/step.ts';
import type { TeachingOrder } from '../../src/core/bench/teaching.ts';
import { defaultBounds } from '../../src/core/thread/fit.ts';
import { degrees, type LengthUnit, length, millis, mm, tpi } from '../../src/core/units.ts';

export const kit: Kit = {
  calipers: [{ name: 'bench caliper', limitOfError: mm(0.03), step: mm(0.01) }],
  cutters: [{ name: 'sharp 60', angle: degrees(60), tip: { kind: 'sharp' } }],
  feeds: [{ name: 'cross slide', perDetent: mm(0.2), lostDetents: 2, perDetentStandard: mm(0.001) }],
  unit: 'mm',
  bounds: defaultBounds,
  wanted: mm(0.15),
};

export const threaded: Setup = {
  name: 'pear box',
  wood: 'pear',
  fit: 'threaded',
  pitch: { length: tpi(16), given: { kind: 'tpi', threads: 16 } },
  starts: 1,
  cutter: kit.cutters[0] ?? fail('a cutter'),
  depth: { female: mm(1), male: mm(1) },
  bored: 'lid',
  wanted: mm(0.15),
  bounds: defaultBounds,
  unit: 'mm',
  caliper: kit.calipers[0] ?? fail('a caliper'),
  feed: kit.feeds[0] ?? fail('a feed'),
  hardens: false,
};

function fail(what: string): never {
  throw new Error(`the test lacks ${what}`);
}

/** What a bore that was typed says of its tops: nothing. */
export const TYPED_BORE = {
  standard: null,
  degreesOfFreedom: null,
  tops: 1,
  agreeing: 1,
  spread: null,
  how: 'typed',
} as const;

const MOMENT = millis(0);
/** What a word of a script stands for; see `play`. */
const WORDS: { readonly [word: string]: BenchEvent } = {
  keep: { kind: 'action', action: 'keep' },
  again: { kind: 'action', action: 'again' },
  next: { kind: 'action', action: 'next' },
  back: { kind: 'action', action: 'back' },
  enter: { kind: 'entered' },
  erase: { kind: 'erased' },
  esc: { kind: 'escaped' },
  up: { kind: 'moved', by: -1 },
  down: { kind: 'moved', by: 1 },
  '+': { kind: 'detent-keyed', by: 1 },
  '-': { kind: 'detent-keyed', by: -1 },
  undo: { kind: 'undo-asked' },
  unit: { kind: 'unit-switched' },
  help: { kind: 'help-switched' },
  note: { kind: 'note-asked' },
  new: { kind: 'new-job-asked' },
  jobs: { kind: 'jobs-asked' },
  sheet: { kind: 'sheet-asked' },
  virtual: { kind: 'virtual-asked' },
  calibrate: { kind: 'calibrate-asked' },
  finish: { kind: 'form-finished' },
  quit: { kind: 'quit-asked' },
  restart: { kind: 'board-restarted', heardAt: MOMENT },
  overrun: { kind: 'feed-overran', heardAt: MOMENT },
  silent: { kind: 'line-silent', heardAt: MOMENT },
  open: { kind: 'link-opened', port: 'p', heardAt: MOMENT },
  lost: { kind: 'link-lost', port: 'p', why: 'unplugged', heardAt: MOMENT },
};

const wordsOf = (script: string): readonly string[] => script.split(' ').filter((word) => word !== '');

/** What a script of hands alone makes happen; see `play`. */
export const handsOf = (script: string): readonly BenchEvent[] =>
  wordsOf(script).flatMap((word) => {
    const typed = { kind: 'typed', text: word.slice(1).replaceAll('_', ' ') } as const;
    const [by = '', count] = /^([+-])(\d+)$/.exec(word)?.slice(1) ?? [];
    if (count) return Array.from({ length: Number(count) }, () => WORDS[by] ?? fail(by));
    if (word.startsWith('=')) return [typed, { kind: 'entered' }];
    return [word.startsWith('~') ? typed : (WORDS[word] ?? fail(`the word ${word}`))];
  });

/** A running bench whose entries stay in memory; `broken` makes saving fail until it is set back. */
export class Table {
  readonly runner: Runner;
  readonly entries: Entry[] = [];
  readonly sounds: string[] = [];
  readonly feeds: FeedFound[] = [];
  broken = false;
  /** The feeds of the kit, as the bench gets them. */
  kitFeeds = kit.feeds;
  #ids = 0;
  #jobs = 0;
  #now = 0;

  constructor(setup: Setup = threaded) {
    this.runner = new Runner(startBench(millis(0), 1_700_000_000_000, setup.unit), this.#edges(), () => {});
    this.do({ kind: 'lessons-found', setup, learned: null });
  }

  get bench(): Bench {
    return this.runner.bench;
  }

  /** Why the last wish was refused; null where it was not. */
  get refusal(): Refusal | null {
    const { notice } = this.bench;
    return notice?.kind === 'refused' ? notice.why : null;
  }

  /** What the turner is asked; null where nothing is. */
  get asked(): KeepQuestion | null {
    const { notice } = this.bench;
    return notice?.kind === 'question' ? notice.ask : null;
  }

  /** The job on the bench; a test without one is wrong. */
  get job(): Job {
    return this.bench.job ?? fail('a job');
  }

  /** The bench as a stage gets it. */
  get ready(): Bench & { readonly job: Job } {
    return { ...this.bench, job: this.job };
  }

  /** What waits to be kept, in millimetres. */
  get values(): readonly number[] {
    return this.bench.readings.map(({ value }) => value);
  }

  /** The kinds of what was kept, in order. */
  get kinds(): readonly Fact['kind'][] {
    return this.entries.map(({ fact }) => fact.kind);
  }

  get lastFact(): Fact | undefined {
    return this.entries.at(-1)?.fact;
  }

  countOf(kind: Fact['kind']): number {
    return this.kinds.filter((each) => each === kind).length;
  }

  do(...events: readonly BenchEvent[]): this {
    for (const event of events) this.runner.dispatch(event);
    return this;
  }

  /**
   * A script, word by word: those of `WORDS`; `@spigot` goes to that stage (`@bore-thread`), `=42.30` types and enters it,
   * `~4` types it only (`_` is a blank), `+5` keys five detents or strokes, `43.4x4` is read four times, `board` and `board:bench-02` speak, `feed:7` is their
   * count, `detents:5` turns the handle on, `wait:2500` lets time pass.
   */
  play(script: string): this {
    for (const word of wordsOf(script)) this.#word(word);
    return this;
  }

  #word(word: string): void {
    const [head = '', tail = ''] = word.split(':');
    const [value, times] = word.split('x').map(Number);
    if (word.startsWith('@')) this.to(word.slice(1).replace('-', ' '));
    else if (head === 'board') this.board(0, tail || 'bench-01');
    else if (head === 'feed') this.feed(Number(tail));
    else if (head === 'detents') this.detents(Number(tail));
    else if (head === 'wait') this.pass(Number(tail));
    else if (Number.isFinite(value) && times) this.reads(Number(value), times);
    else this.do(...handsOf(word));
  }

  /** Types text and closes it with Enter. */
  type(text: string): this {
    return this.do({ kind: 'typed', text }, { kind: 'entered' });
  }

  act(...actions: readonly ('keep' | 'again' | 'next' | 'back')[]): this {
    return this.do(...actions.map((action) => ({ kind: 'action', action }) as const));
  }

  /** A board that speaks, with its feed at a total. */
  board(total = 0, board = 'bench-01'): this {
    const heardAt = millis(this.#now);
    this.do({
      kind: 'board-found',
      facts: { board, firmware: '0.1.0', parts: ['feed'] },
      at: heardAt,
      heardAt,
    });
    return this.feed(total);
  }

  feed(total: number): this {
    this.pass(50);
    const at = millis(this.#now);
    return this.do({ kind: 'feed-counted', total, at, raw: `FE,${total}`, heardAt: at });
  }

  /** The handle turned on by this many detents. */
  detents(count: number): this {
    const from = this.bench.feed?.total ?? 0;
    for (let at = 1; at <= count; at++) this.feed(from + at);
    return this;
  }

  /** Readings of this value, one each eighth of a second. */
  reads(value: number, times = 4, unit: LengthUnit = 'mm'): this {
    for (let count = 0; count < times; count++) {
      this.pass(125);
      const at = millis(this.#now);
      const step = unit === 'mm' ? mm(0.01) : length(0.0005, 'in');
      const text = value.toFixed(unit === 'mm' ? 2 : 4);
      const reading = { value: length(value, unit), unit, step, text, at };
      this.do({ kind: 'reading-received', reading, checked: true, raw: `DI,${text}`, heardAt: at });
    }
    return this;
  }

  /** A spigot turned down to this size, measured on its way. */
  turns(value: number, times = 4): this {
    return this.reads(value + 1, 4).reads(value, times);
  }

  pass(milliseconds: number): this {
    this.#now += milliseconds;
    return this.do({ kind: 'ticked', now: millis(this.#now), wall: 1_700_000_000_000 + this.#now });
  }

  /** Goes to a stage by next and back, as a turner would. */
  to(stage: string): this {
    for (let tries = 0; tries < 8 && this.bench.job?.stage !== stage; tries++) this.act('back');
    while (this.bench.job?.stage !== stage) {
      const before = this.bench.job?.stage;
      this.act('next');
      if (this.bench.job?.stage === before) throw new Error(`no way to ${stage} from ${before}`);
    }
    return this;
  }

  /** What is kept of a job, in the order it was written, as records give it back. */
  #logOf(job: string): readonly Entry[] {
    return this.entries.filter((entry) => entry.job === job);
  }

  #jobLines(): readonly JobLine[] {
    const jobs = [...new Set(this.entries.map(({ job }) => job))];
    return jobs.flatMap((id) => {
      const job = jobOf(this.#logOf(id));
      const { name } = job?.setup ?? { name: '' };
      return job ? [{ id, name, touched: job.touched, stage: job.stage, closed: job.closed !== null }] : [];
    });
  }

  #edges() {
    return {
      keep: (job: string | null, fact: Fact, readings: readonly KeptReading[]) => {
        const entry = {
          id: `e${++this.#ids}`,
          job: job ?? `job-${++this.#jobs}`,
          at: 1_700_000_000_000 + this.#now,
          fact,
          readings,
        };
        if (!this.broken) this.entries.push(entry);
        return { entry, trouble: this.broken ? 'the disk is full' : null };
      },
      retry: (entries: readonly Entry[]) => {
        if (this.broken) return [];
        const known = new Set(this.entries.map(({ id }) => id));
        this.entries.push(...entries.filter(({ id }) => !known.has(id)));
        return entries.map(({ id }) => id);
      },
      jobs: () => this.#jobLines(),
      entriesOf: (job: string) => this.#logOf(job),
      kit: () => ({ kit: { ...kit, feeds: this.kitFeeds }, last: null }),
      lessons: () => null,
      writeSheet: async () => ({ trouble: 'no sheet here' }),
      keepFeed: (feed: FeedFound) => {
        if (this.broken) return { trouble: 'the disk is full' };
        this.feeds.push(feed);
        return { path: 'memory' };
      },
      sound: (cue: string) => void this.sounds.push(cue),
      startVirtual: () => {},
      teach: (order: TeachingOrder) => {
        throw new Error(`no virtual bench to ${order}`);
      },
      quit: () => {},
    };
  }
}

/** A bench on which this script was played. */
export const played = (script: string, setup: Setup = threaded): Table => new Table(setup).play(script);
