// What every link offers: a port, a trace and the virtual bench alike.
import type { LinkEvent } from '../core/bench/event.ts';
import { type Millis, millis } from '../core/units.ts';

export interface LinkListener {
  /** One line without its end, each character one byte, and when the host received it. */
  line(text: string, heardAt: Millis): void;
  event(event: LinkEvent): void;
  /** What was left without an end when the port closed: never a line, but counted. */
  unfinished?(tail: string, heardAt: Millis): void;
}

export interface Link {
  /** The port's path, the trace's file, or the virtual bench's name. */
  readonly name: string;
  /** Starts listening; events and lines follow until `close`. Called once. */
  open(listener: LinkListener): void;
  /** Asks the board who it is: `?` and LF. Nothing is sent where nothing is open. */
  ask(): void;
  /** Releases everything; settles when the port is free again. Safe to call twice. */
  close(): Promise<void>;
}

/** The question the program may ask, and all that it ever sends. */
export const QUESTION = '?\n';

/** The host's own clock: it never goes back, and counts whole milliseconds, so that a recorded trace says the same as the live line. */
export const hostClock = (): Millis => millis(Math.floor(performance.now()));
