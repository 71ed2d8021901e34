// The bench in plain sentences: one line for each change of meaning, for a screen reader; keys as on the drawn screen.
import type { BenchEvent } from '../../core/bench/event.ts';
import type { Bench } from '../../core/bench/state.ts';
import { KeyStream } from '../../screen/key-stream.ts';
import { eventFor } from '../../screen/keymap.ts';
import type { Key } from '../../screen/keys.ts';
import { onLeaving } from '../../screen/leaving.ts';
import { Pace } from '../../screen/pace.ts';
import { SILENT, speak } from '../../screen/spoken.ts';
import type { Display } from './open.ts';

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
