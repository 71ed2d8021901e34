// What shows the bench: drawn on a terminal as it changes, or one plain sentence for each change of meaning, for a screen reader.
import type { BenchEvent } from '../../core/bench/event.ts';
import type { Bench } from '../../core/bench/state.ts';
import type { Settings } from '../../kit/settings.ts';
import type { TerminalOutput } from '../../screen/changed-cells.ts';
import { glyphsOf } from '../../screen/glyphs.ts';
import { KeyStream, type TerminalInput } from '../../screen/key-stream.ts';
import { eventFor } from '../../screen/keymap.ts';
import type { Key } from '../../screen/keys.ts';
import { onLeaving } from '../../screen/leaving.ts';
import { Pace } from '../../screen/pace.ts';
import { SILENT, speak } from '../../screen/spoken.ts';
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

/** Sentences come no faster than this, so that a reader hears the latest. */
const SPEAK_MS = 400;

export const spokenDisplay =
  () =>
  (dispatch: (event: BenchEvent) => void, bench: () => Bench): Display => {
    let said = SILENT;
    const pace = new Pace(SPEAK_MS, () => {
      const speech = speak(bench(), said);
      said = speech.said;
      for (const line of speech.lines) process.stdout.write(`${line}\n`);
    });
    const onKey = (key: Key): void => {
      const event = eventFor(key, bench());
      if (key.kind === 'quit-signal') process.kill(process.pid, 'SIGQUIT');
      else if (event) dispatch(event);
    };
    const keys = new KeyStream(process.stdin, onKey);
    const release = (): void => keys.close();
    process.stdin.on('end', () => dispatch({ kind: 'quit-asked' }));
    const stay = onLeaving(release, (text) => void process.stderr.write(`${text}\n`));
    return {
      show: () => pace.request(),
      sound: () => undefined,
      close() {
        pace.flush();
        pace.stop();
        release();
        stay();
      },
    };
  };
