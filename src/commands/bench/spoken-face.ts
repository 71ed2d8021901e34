// The bench's face in plain sentences: one line for each change of meaning, for a screen reader; keys as on the drawn screen.
import type { BenchEvent } from '../../core/bench/event.ts';
import type { Bench } from '../../core/bench/state.ts';
import { eventFor } from '../../screen/keymap.ts';
import { decodeKeys } from '../../screen/keys.ts';
import { onLeaving } from '../../screen/leaving.ts';
import { Pace } from '../../screen/pace.ts';
import { SILENT, speak } from '../../screen/spoken.ts';
import type { Face } from './open.ts';

/** Sentences come no faster than this, so that what a reader hears is where things stand. */
const SPEAK_MS = 400;

export const spokenFace =
  () =>
  (dispatch: (event: BenchEvent) => void, bench: () => Bench): Face => {
    let said = SILENT;
    let pending = '';
    const pace = new Pace(SPEAK_MS, () => {
      const speech = speak(bench(), said);
      said = speech.said;
      for (const line of speech.lines) process.stdout.write(`${line}\n`);
    });
    const onData = (bytes: string): void => {
      const { keys, rest } = decodeKeys(pending, bytes);
      pending = rest;
      for (const key of keys) {
        const event = eventFor(key, bench());
        if (event) dispatch(event);
      }
    };
    const release = (): void => {
      process.stdin.off('data', onData);
      if (process.stdin.isTTY) process.stdin.setRawMode(false);
      process.stdin.pause();
    };
    if (process.stdin.isTTY) process.stdin.setRawMode(true);
    process.stdin.setEncoding('utf8');
    process.stdin.on('data', onData);
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
