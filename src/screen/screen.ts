// The bench screen as the program uses it: shows benches, hears keys, sounds cues, and gives the terminal back.
import type { HandEvent } from '../core/bench/event.ts';
import type { Bench, Cue } from '../core/bench/state.ts';
import type { TerminalInput } from './keyboard.ts';
import { eventFor } from './keymap.ts';
import type { Key } from './keys.ts';
import { onLeaving } from './leaving.ts';
import { type Clock, Pace, steadyClock } from './pace.ts';
import { Terminal, type TerminalOutput } from './terminal.ts';
import { depthOf, type Environment, glyphsOf, themeOf } from './theme.ts';
import { type Look, view } from './view.ts';
import { FrameWriter } from './writer.ts';

/** Milliseconds between two frames at least: twenty-five a second are more than a hand or an eye can tell apart. */
const FRAME_EVERY = 40;

export interface ScreenSettings {
  readonly output: TerminalOutput;
  readonly input: TerminalInput;
  readonly env: Environment;
  /** Where an uncaught error is told once the terminal is a plain one again. */
  readonly tell: (text: string) => void;
  readonly clock?: Clock;
}

/** Opens the screen on a terminal. `close` gives it back; every other way out of the program does so too. */
export class Screen {
  readonly #terminal: Terminal;
  readonly #writer: FrameWriter;
  readonly #look: Look;
  readonly #pace: Pace;
  readonly #stay: () => void;
  readonly #dispatch: (event: HandEvent) => void;
  readonly #bench: () => Bench;
  #latest: Bench | undefined;
  #full = false;

  constructor(settings: ScreenSettings, dispatch: (event: HandEvent) => void, bench: () => Bench) {
    const clock = settings.clock ?? steadyClock;
    this.#dispatch = dispatch;
    this.#bench = bench;
    this.#look = { glyphs: glyphsOf(settings.env) };
    this.#writer = new FrameWriter(themeOf(depthOf(settings.env)));
    this.#pace = new Pace(FRAME_EVERY, () => this.#draw(), clock);
    this.#terminal = new Terminal(
      settings.output,
      settings.input,
      { onKey: (key) => this.#key(key), onResize: () => this.#repaint(), onContinue: () => this.#repaint() },
      clock,
    );
    this.#stay = onLeaving(() => this.#terminal.close(), settings.tell);
  }

  /** Shows this bench soon: at once when the screen has been quiet, together with what follows when it has not. */
  show(bench: Bench): void {
    if (bench === this.#latest) return;
    this.#latest = bench;
    this.#pace.request();
  }

  sound(_cue: Cue): void {
    this.#terminal.bell();
  }

  close(): void {
    this.#pace.stop();
    this.#terminal.close();
    this.#stay();
  }

  #key(key: Key): void {
    const event = eventFor(key, this.#bench());
    if (event) this.#dispatch(event);
  }

  #repaint(): void {
    this.#writer.forget();
    this.#pace.request();
  }

  /** While the terminal takes no more, nothing is drawn; what is then the latest is drawn when it does. */
  #draw(): void {
    if (!this.#latest || this.#full) return;
    const frame = this.#writer.frame(view(this.#latest, this.#terminal.size, this.#look));
    if (this.#terminal.write(frame)) return;
    this.#full = true;
    this.#terminal.drained(() => {
      this.#full = false;
      this.#pace.request();
    });
  }
}
