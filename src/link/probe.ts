// One port tried for a while: opened, asked, listened to, closed again. For `lidwright ports`, and to know a board by its id.
import { setTimeout as pause } from 'node:timers/promises';
import { type Millis, millis } from '../core/units.ts';
import { createFramer } from '../wire/framing.ts';
import { createWatch } from '../wire/watch.ts';
import { explained } from './holders.ts';
import { QUESTION } from './link.ts';
import { type OpenPort, openPort } from './serial.ts';
import { NOTHING_HEARD, type Tally, tally } from './tally.ts';

/** A board that restarts when its port is opened needs about this long before it answers (common practice, no source). */
export const PROBE_PATIENCE: Millis = millis(2500);

export type Probe =
  | { readonly kind: 'listened'; readonly path: string; readonly heard: Tally }
  | { readonly kind: 'refused'; readonly path: string; readonly why: string };

export interface ProbeSettings {
  readonly baud: number;
  readonly now: () => Millis;
  readonly patience?: Millis;
  /** Ends the listening as soon as the board has said who it is. */
  readonly untilBoard?: boolean;
}

/** Never fails: a port that will not open is `refused` with a sentence for the turner. */
export async function probePort(path: string, settings: ProbeSettings): Promise<Probe> {
  const { baud, now, patience = PROBE_PATIENCE, untilBoard = false } = settings;
  const framer = createFramer();
  const watch = createWatch();
  const enough = new AbortController();
  let heard: Tally = NOTHING_HEARD;
  const line = (text: string): void =>
    watch.push(text, now(), (event) => {
      heard = tally(heard, event);
      if (untilBoard && (heard.board ?? heard.otherVersion) !== undefined) enough.abort();
    });
  let port: OpenPort;
  try {
    port = await openPort(path, baud, {
      bytes: (text) => framer.push(text, line),
      gone: () => enough.abort(),
    });
  } catch (cause) {
    return { kind: 'refused', path, why: await explained(path, cause) };
  }
  port.send(QUESTION);
  await pause(patience, undefined, { signal: enough.signal }).catch(() => undefined);
  await port.close();
  return { kind: 'listened', path, heard };
}
