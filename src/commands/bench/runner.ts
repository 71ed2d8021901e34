// Runs the bench: events go through the pure step one by one, and the effects it orders are carried out at the edges.
import type { FeedFound } from '../../core/bench/calibration/model.ts';
import type { BenchEvent } from '../../core/bench/event.ts';
import type { Effect } from '../../core/bench/outcome.ts';
import type { Kit, Setup } from '../../core/bench/setup.ts';
import type { Bench, Cue } from '../../core/bench/state.ts';
import { step } from '../../core/bench/step.ts';
import type { Teaching, TeachingOrder } from '../../core/bench/teaching.ts';
import type { JobStore } from './job-store.ts';

/** Where a file was written, or why it was not. */
type FileWritten = { readonly path: string } | { readonly trouble: string };

/** Everything outside the pure bench that effects need. Failures come back as text, never as exceptions. */
export interface Edges extends Omit<JobStore, 'last'> {
  kit(): { readonly kit: Kit; readonly last: Setup | null };
  writeSheet(job: string): Promise<FileWritten>;
  /** Puts a calibrated feed into the kit. */
  keepFeed(feed: FeedFound): FileWritten;
  sound(cue: Cue): void;
  startVirtual(): void;
  /** Only ordered on the virtual bench. */
  teach(order: TeachingOrder): Teaching;
  quit(): void;
}

export class Runner {
  #bench: Bench;
  readonly #edges: Edges;
  readonly #changed: (bench: Bench, before: Bench) => void;
  readonly #queue: BenchEvent[] = [];
  #running = false;

  constructor(bench: Bench, edges: Edges, changed: (bench: Bench, before: Bench) => void) {
    this.#bench = bench;
    this.#edges = edges;
    this.#changed = changed;
  }

  get bench(): Bench {
    return this.#bench;
  }

  /** Steps through this event and everything that answers it; the screen hears of it once. */
  dispatch(event: BenchEvent): void {
    this.#queue.push(event);
    if (this.#running) return;
    this.#running = true;
    const before = this.#bench;
    try {
      for (let next = this.#queue.shift(); next; next = this.#queue.shift()) this.#step(next);
    } finally {
      this.#running = false;
    }
    if (this.#bench !== before) this.#changed(this.#bench, before);
  }

  #step(event: BenchEvent): void {
    const { bench, effects } = step(this.#bench, event);
    this.#bench = bench;
    for (const effect of effects) {
      const answer = this.#perform(effect);
      if (answer) this.#queue.push(answer);
    }
  }

  /** Carries out an effect; its answer is stepped before anything else in the queue. */
  #perform(effect: Effect): BenchEvent | undefined {
    const edges = this.#edges;
    switch (effect.kind) {
      case 'keep':
        return { kind: 'entry-kept', ...edges.keep(effect.job, effect.fact, effect.readings) };
      case 'retry':
        return { kind: 'entries-saved', ids: edges.retry(effect.entries) };
      case 'list-jobs': {
        const jobs = edges.jobs();
        return 'trouble' in jobs ? failed('no list of jobs', jobs.trouble) : { kind: 'jobs-listed', jobs };
      }
      case 'open-job': {
        const log = edges.entriesOf(effect.job);
        return 'trouble' in log ? failed('job not opened', log.trouble) : { kind: 'job-opened', log };
      }
      case 'open-form':
        return { kind: 'form-opened', ...edges.kit() };
      case 'find-lessons':
        return { kind: 'lessons-found', setup: effect.setup, learned: edges.lessons(effect.setup) };
      case 'sound':
        edges.sound(effect.cue);
        return undefined;
      case 'write-sheet':
        void this.#writeSheet(effect.job);
        return undefined;
      case 'open-calibration':
        return { kind: 'calibration-opened', kit: edges.kit().kit };
      case 'keep-feed': {
        const done = edges.keepFeed(effect.feed);
        return 'trouble' in done
          ? failed('feed not saved', done.trouble)
          : { kind: 'feed-kept', name: effect.feed.name };
      }
      case 'start-virtual':
        edges.startVirtual();
        return undefined;
      case 'teach':
        return { kind: 'teaching-changed', teaching: edges.teach(effect.order) };
      case 'quit':
        edges.quit();
        return undefined;
      default:
        return effect satisfies never;
    }
  }

  async #writeSheet(job: string): Promise<void> {
    const done = await this.#edges.writeSheet(job);
    this.dispatch(
      'trouble' in done ? failed('no job sheet', done.trouble) : { kind: 'sheet-written', path: done.path },
    );
  }
}

const failed = (what: string, why: string): BenchEvent => ({ kind: 'edge-failed', what, why });
