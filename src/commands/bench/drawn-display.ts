// The bench drawn on a terminal as it changes; keys made into events, bells sounded.
import type { BenchEvent } from '../../core/bench/event.ts';
import type { Bench } from '../../core/bench/state.ts';
import type { Settings } from '../../kit/settings.ts';
import type { TerminalOutput } from '../../screen/changed-cells.ts';
import { glyphsOf } from '../../screen/glyphs.ts';
import type { TerminalInput } from '../../screen/key-stream.ts';
import { eventFor } from '../../screen/keymap.ts';
import { onLeaving } from '../../screen/leaving.ts';
import { TerminalDisplay } from '../../screen/terminal-display.tsx';
import { colourDepthOf, themeOf } from '../../screen/theme.ts';
import type { Display } from './open.ts';

type DisplaySettings = Pick<Settings, 'bell' | 'glyphs'>;

/** The terminal to draw on: the program's own, or one that a test brings. */
export interface Streams {
  readonly output: TerminalOutput;
  readonly input: TerminalInput;
}

export const drawnDisplay =
  (settings: DisplaySettings, streams: Streams = { output: process.stdout, input: process.stdin }) =>
  (dispatch: (event: BenchEvent) => void, bench: () => Bench, fail: () => void): Display => {
    const tell = (text: string): void => void process.stderr.write(`${text}\n`);
    const display = new TerminalDisplay({
      ...streams,
      glyphs: settings.glyphs === 'auto' ? glyphsOf(process.env) : settings.glyphs,
      theme: themeOf(colourDepthOf(process.env)),
      bench,
      onKey(key) {
        const event = eventFor(key, bench());
        if (event) dispatch(event);
      },
      onError(error) {
        display.close();
        tell(
          `lidwright: the screen can't be drawn any more (${String(error)}), so the bench is closed. Everything kept is saved.`,
        );
        fail();
      },
    });
    const stay = onLeaving(() => display.close(), tell);
    return {
      show: () => display.request(),
      sound: () => {
        if (settings.bell === 'on') display.bell();
      },
      close() {
        display.close();
        stay();
      },
    };
  };
