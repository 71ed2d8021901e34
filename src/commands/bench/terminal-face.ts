// The bench's face on a terminal: pictures written as they change, keys made into events, bells sounded.
import type { BenchEvent } from '../../core/bench/event.ts';
import type { Bench } from '../../core/bench/state.ts';
import type { Settings } from '../../kit/settings.ts';
import type { TerminalInput } from '../../screen/keyboard.ts';
import { eventFor } from '../../screen/keymap.ts';
import { onLeaving } from '../../screen/leaving.ts';
import { Pace } from '../../screen/pace.ts';
import { Terminal, type TerminalOutput } from '../../screen/terminal.ts';
import { depthOf, glyphsOf, themeOf } from '../../screen/theme.ts';
import { view } from '../../screen/view.ts';
import { FrameWriter } from '../../screen/writer.ts';
import type { Display } from './open.ts';

/** At most so often is a frame drawn: fifty a second. */
const FRAME_MS = 20;

type FaceSettings = Pick<Settings, 'bell' | 'glyphs'>;

/** The terminal to draw on: the program's own, or one that a test brings. */
export interface Streams {
  readonly output: TerminalOutput;
  readonly input: TerminalInput;
}

export const terminalFace =
  (settings: FaceSettings, streams: Streams = { output: process.stdout, input: process.stdin }) =>
  (dispatch: (event: BenchEvent) => void, bench: () => Bench): Display => {
    const glyphs = settings.glyphs === 'auto' ? glyphsOf(process.env) : settings.glyphs;
    const writer = new FrameWriter(themeOf(depthOf(process.env)));
    /** A full terminal is left alone: it gets the newest picture when it takes more, and never those in between. */
    const draw = (): void => {
      if (!terminal.full) terminal.write(writer.frame(view(bench(), terminal.size, { glyphs })));
    };
    const pace = new Pace(FRAME_MS, draw);
    const terminal = new Terminal(streams.output, streams.input, {
      onKey(key) {
        const event = eventFor(key, bench());
        if (event) dispatch(event);
      },
      onResize() {
        writer.forget();
        pace.request();
      },
      onContinue() {
        writer.forget();
        pace.request();
      },
      onDrained: () => pace.request(),
    });
    const stay = onLeaving(
      () => terminal.close(),
      (text) => void process.stderr.write(`${text}\n`),
    );
    return {
      show: () => pace.request(),
      sound: () => {
        if (settings.bell === 'on') terminal.bell();
      },
      close() {
        pace.stop();
        terminal.close();
        stay();
      },
    };
  };
