// The spoken bench as the program uses it: sentences to a plain stream, keys from a terminal, nothing drawn and nothing erased.
import type { HandEvent } from '../core/bench/event.ts';
import type { Bench, Cue } from '../core/bench/state.ts';
import { Keyboard, type TerminalInput } from './keyboard.ts';
import { eventFor } from './keymap.ts';
import type { Key } from './keys.ts';
import { onLeaving } from './leaving.ts';
import { type Clock, Pace, steadyClock } from './pace.ts';
import { type Said, SILENT, speak } from './spoken.ts';
import type { TerminalOutput } from './terminal.ts';

/** Sentences come no faster than they can be heard: milliseconds. */
const SENTENCES_EVERY = 400;

export interface SpeakerSettings {
  readonly output: Pick<TerminalOutput, 'write'>;
  readonly input: TerminalInput;
  readonly tell: (text: string) => void;
  readonly clock?: Clock;
}

export class Speaker {
  readonly #settings: SpeakerSettings;
  readonly #keyboard: Keyboard;
  readonly #pace: Pace;
  readonly #dispatch: (event: HandEvent) => void;
  readonly #bench: () => Bench;
  readonly #stay: () => void;
  #said: Said = SILENT;
  #open = true;

  constructor(settings: SpeakerSettings, dispatch: (event: HandEvent) => void, bench: () => Bench) {
    this.#settings = settings;
    this.#dispatch = dispatch;
    this.#bench = bench;
    const clock = settings.clock ?? steadyClock;
    this.#pace = new Pace(SENTENCES_EVERY, () => this.#say(), clock);
    this.#keyboard = new Keyboard(settings.input, (key) => this.#press(key), clock);
    this.#stay = onLeaving(() => this.#giveBack(), settings.tell);
  }

  show(_bench: Bench): void {
    this.#pace.request();
  }

  sound(_cue: Cue): void {
    if (this.#open) this.#settings.output.write('\x07');
  }

  close(): void {
    this.#pace.flush();
    this.#giveBack();
    this.#stay();
  }

  #giveBack(): void {
    if (!this.#open) return;
    this.#open = false;
    this.#pace.stop();
    this.#keyboard.giveBack();
  }

  #say(): void {
    const { lines, said } = speak(this.#bench(), this.#said);
    this.#said = said;
    // Raw mode does not return the carriage by itself.
    if (lines.length > 0 && this.#open)
      this.#settings.output.write(`${lines.join('\n').replaceAll('\n', '\r\n')}\r\n`);
  }

  #press(key: Key): void {
    const event = eventFor(key, this.#bench());
    if (event) this.#dispatch(event);
  }
}
