// What can happen at the bench: past facts, from the line, from the turner's hands, and from the clock.
import type { Reading } from '../measure/reading.ts';
import type { Millis } from '../units.ts';
import type { Entry } from './entry.ts';
import type { JobLine } from './job.ts';
import type { Kit, Lessons, Measuring, Setup } from './setup.ts';
import type { Teaching, TeachingOrder } from './teaching.ts';

export type ButtonName = 1 | 2 | 3 | 4;

/** The four actions that work the whole bench: as keys, as board buttons 1 to 4. */
export type Action = 'keep' | 'again' | 'next' | 'back';

export interface BoardFacts {
  readonly board: string;
  readonly firmware: string;
  readonly parts: readonly string[];
}

/** Why a line was dropped; the line itself is kept, made safe to show, with the event. */
export type Discard =
  | 'bad-checksum'
  | 'too-long'
  | 'bad-byte'
  | 'bad-field'
  | 'unfinished'
  | 'not-a-line'
  | 'wrong-version'
  | 'repeated';

/** `heardAt` is the host's (or the trace's) time; a reading's own `at` is the board's. */
interface Heard {
  readonly heardAt: Millis;
}

/** What the wire makes of the bytes. */
export type LineEvent = Heard &
  (
    | {
        readonly kind: 'reading-received';
        readonly reading: Reading;
        readonly checked: boolean;
        readonly raw: string;
      }
    | { readonly kind: 'feed-counted'; readonly total: number; readonly at: Millis; readonly raw: string }
    | { readonly kind: 'button-changed'; readonly button: ButtonName; readonly down: boolean }
    | { readonly kind: 'board-found'; readonly facts: BoardFacts; readonly at: Millis }
    | { readonly kind: 'board-restarted' | 'feed-overran' | 'line-silent' | 'line-speaking' }
    | { readonly kind: 'board-fault'; readonly code: string }
    | { readonly kind: 'lines-lost'; readonly count: number }
    | { readonly kind: 'line-discarded'; readonly why: Discard; readonly raw: string }
    | { readonly kind: 'line-unknown'; readonly raw: string }
    | { readonly kind: 'version-refused'; readonly theirs: string; readonly ours: string }
  );

/** What the link says of the port itself. */
export type LinkEvent = Heard &
  (
    | { readonly kind: 'link-opened'; readonly port: string }
    | { readonly kind: 'link-lost' | 'link-refused'; readonly port: string; readonly why: string }
  );

/** What the turner does, by key or by button; a key's meaning is decided in screen/keymap.ts. */
export type HandEvent =
  | { readonly kind: 'action'; readonly action: Action }
  /** Printable text typed: part of a number, or of a name where a name is asked for. */
  | { readonly kind: 'typed'; readonly text: string }
  /** Enter: ends the typing; with nothing typed it keeps. */
  | { readonly kind: 'entered' }
  | { readonly kind: 'erased' | 'escaped' | 'form-finished' }
  | { readonly kind: 'moved' | 'detent-keyed'; readonly by: 1 | -1 }
  | { readonly kind: 'undo-asked' | 'unit-switched' | 'help-switched' | 'quit-asked' }
  | { readonly kind: 'note-asked' | 'new-job-asked' | 'jobs-asked' }
  | { readonly kind: 'sheet-asked' | 'calibrate-asked' | 'virtual-asked' }
  | { readonly kind: 'teaching-asked'; readonly order: TeachingOrder | 'mishap' };

/** Answers to effects, and the clock. `wall` is milliseconds since 1970, `now` the host's steady clock. */
export type EdgeEvent =
  | { readonly kind: 'ticked'; readonly now: Millis; readonly wall: number }
  /** `log` is the job's whole log, where another bench added to it since it was last read here. */
  | {
      readonly kind: 'entry-kept';
      readonly entry: Entry;
      readonly trouble: string | null;
      readonly log?: readonly Entry[];
    }
  | { readonly kind: 'entries-saved'; readonly ids: readonly string[] }
  | { readonly kind: 'jobs-listed'; readonly jobs: readonly JobLine[] }
  | { readonly kind: 'job-opened'; readonly log: readonly Entry[] }
  | { readonly kind: 'form-opened'; readonly kit: Kit; readonly last: Setup | null }
  | { readonly kind: 'lessons-found'; readonly setup: Setup; readonly learned: Lessons | null }
  | { readonly kind: 'calibration-opened'; readonly kit: Kit }
  | { readonly kind: 'feed-kept'; readonly name: string }
  | { readonly kind: 'sheet-written'; readonly path: string }
  | { readonly kind: 'teaching-changed'; readonly teaching: Teaching }
  | { readonly kind: 'practice-opened'; readonly measuring: Measuring | undefined }
  | { readonly kind: 'edge-failed'; readonly what: string; readonly why: string };

export type BenchEvent = LineEvent | LinkEvent | HandEvent | EdgeEvent;
