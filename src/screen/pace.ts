// How often the screen is drawn: at once after a quiet spell, otherwise at a limited rate; no request is ever lost.

/** Time as this file needs it, so that tests bring their own. */
export interface Clock {
  /** Milliseconds of a steady clock. */
  now(): number;
  /** Calls `then` after this many milliseconds; the returned function cancels that. */
  after(milliseconds: number, then: () => void): () => void;
}

export const steadyClock: Clock = {
  now: () => performance.now(),
  after(milliseconds, then) {
    const timer = setTimeout(then, milliseconds);
    return () => clearTimeout(timer);
  },
};

/**
 * Draws on request: the first request at once (leading edge), later ones together when `interval` milliseconds have
 * passed since the last drawing (trailing edge), so that what was asked for last is always drawn.
 */
export class Pace {
  readonly #interval: number;
  readonly #draw: () => void;
  readonly #clock: Clock;
  #drawnAt = Number.NEGATIVE_INFINITY;
  #callOff: (() => void) | undefined;

  constructor(interval: number, draw: () => void, clock: Clock = steadyClock) {
    this.#interval = interval;
    this.#draw = draw;
    this.#clock = clock;
  }

  request(): void {
    if (this.#callOff) return;
    const wait = this.#drawnAt + this.#interval - this.#clock.now();
    if (wait <= 0) this.#drawNow();
    else this.#callOff = this.#clock.after(wait, () => this.#drawNow());
  }

  /** Draws what was asked for and not drawn yet, now. */
  flush(): void {
    if (this.#callOff) this.#drawNow();
  }

  /** Nothing more is drawn of what was asked for until now. */
  stop(): void {
    this.#callOff?.();
    this.#callOff = undefined;
  }

  #drawNow(): void {
    this.stop();
    this.#drawnAt = this.#clock.now();
    this.#draw();
  }
}
