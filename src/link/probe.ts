// One port tried for a while: opened, asked, listened to, closed again. For `lidwright ports`, and to know a board by its id.
import { setTimeout as pause } from 'node:timers/promises';
import { type Millis, millis } from '../core/units.ts';
import { createWatch } from '../wire/watch.ts';
import { addToStats, type LineStats, NOTHING_HEARD } from './line-stats.ts';
import { createLineCutter } from './lines.ts';
import { QUESTION } from './link.ts';
import { openFailure } from './port-users.ts';
import { type OpenPort, openPort } from './serial.ts';

/** A board that restarts when its port is opened needs about this long before it answers (common practice, no source). */
export const PROBE_PATIENCE: Millis = millis(2500);

export type Probe =
  | { readonly kind: 'listened'; readonly path: string; readonly stats: LineStats }
  | { readonly kind: 'refused'; readonly path: string; readonly why: string };

export interface ProbeSettings {
  readonly baud: number;
  readonly now: () => Millis;
  readonly patience?: Millis;
  /** Ends the listening as soon as the board has said which one it is. */
  readonly untilBoard?: boolean;
}

/** Never fails: a port that will not open is `refused` with a sentence for the turner. */
export async function probePort(path: string, settings: ProbeSettings): Promise<Probe> {
  const { baud, now, patience = PROBE_PATIENCE, untilBoard = false } = settings;
  const watch = createWatch();
  const enough = new AbortController();
  let stats: LineStats = NOTHING_HEARD;
  const lines = createLineCutter((text) =>
    watch.push(text, now(), (event) => {
      stats = addToStats(stats, event);
      if (untilBoard && (stats.board ?? stats.otherVersion) !== undefined) enough.abort();
    }),
  );
  let port: OpenPort;
  try {
    port = await openPort(path, baud, { bytes: lines.take, gone: () => enough.abort() });
  } catch (cause) {
    return { kind: 'refused', path, why: await openFailure(path, cause) };
  }
  port.send(QUESTION);
  await pause(patience, undefined, { signal: enough.signal }).catch(() => undefined);
  await port.close();
  return { kind: 'listened', path, stats };
}
