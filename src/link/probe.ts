// Tries one port for a while: opens it, asks, listens, and closes it. Also finds the board again when it comes back at another port.
import { setTimeout as pause } from 'node:timers/promises';
import type { LineEvent } from '../core/bench/event.ts';
import { lineAfter, quietLine } from '../core/bench/line.ts';
import type { LineHealth } from '../core/bench/state.ts';
import { type Millis, millis } from '../core/units.ts';
import { decode } from '../wire/decode.ts';
import { Watch } from '../wire/watch.ts';
import { createLineCutter } from './lines.ts';
import { QUESTION } from './link.ts';
import { deviceIdentity } from './ports.ts';
import { openPort } from './serial.ts';

/** A board that restarts when its port is opened needs about this long before it answers (common practice, no source). */
export const PROBE_PATIENCE: Millis = millis(2500);

/** What a while of listening came to. */
export interface LineStats extends LineHealth {
  readonly readings: number;
  /** Readings of a board that sends no checksums. */
  readonly unchecked: number;
}

export const NOTHING_HEARD: LineStats = { ...quietLine, readings: 0, unchecked: 0 };

function addToStats({ readings, unchecked, ...line }: LineStats, event: LineEvent): LineStats {
  const isReading = event.kind === 'reading-received';
  return {
    ...lineAfter(line, event),
    readings: readings + (isReading ? 1 : 0),
    unchecked: unchecked + (isReading && !event.checked ? 1 : 0),
  };
}

export type Probe =
  | { readonly kind: 'listened'; readonly path: string; readonly stats: LineStats }
  | { readonly kind: 'refused'; readonly path: string; readonly why: string };

interface ProbeSettings {
  readonly baud: number;
  readonly now: () => Millis;
  readonly patience?: Millis;
  /** Ends the listening as soon as the board has said which one it is. */
  readonly untilBoard?: boolean;
}

/** Never fails: a port that will not open is `refused` with a sentence for the turner. */
export async function probePort(path: string, settings: ProbeSettings): Promise<Probe> {
  const { baud, now, patience = PROBE_PATIENCE, untilBoard = false } = settings;
  const watch = new Watch();
  const enough = new AbortController();
  let stats = NOTHING_HEARD;
  const lines = createLineCutter((text) =>
    watch.push(text, now(), (event) => {
      stats = addToStats(stats, event);
      if (untilBoard && (stats.board ?? stats.versionRefused) !== null) enough.abort();
    }),
  );
  const port = await openPort(path, baud, { bytes: lines.take, gone: () => enough.abort() });
  if (typeof port === 'string') return { kind: 'refused', path, why: port };
  port.send(QUESTION);
  await pause(patience, undefined, { signal: enough.signal }).catch(() => undefined);
  await port.close();
  return { kind: 'listened', path, stats };
}

export type BoardFinder = ReturnType<typeof createBoardFinder>;

/** Finds a board again: only ports that are new since it was connected are tried, and only its own id counts. */
export function createBoardFinder(
  home: string,
  allPorts: () => Promise<readonly string[]>,
  baud: number,
  now: () => Millis,
) {
  let board: string | undefined;
  let others: ReadonlySet<string> = new Set();

  const answersAtPort = async (path: string): Promise<boolean> => {
    const probe = await probePort(path, { baud, now, untilBoard: true });
    return probe.kind === 'listened' && probe.stats.board?.board === board;
  };

  return {
    /** Remembers which board this is; cheap for every line but a HI. */
    notice(line: string): void {
      if (!line.startsWith('HI,')) return;
      const heard = decode(line);
      if (heard.kind === 'hello') board = heard.board;
    },
    /** Remembers which other ports there are while this board is connected: they belong to somebody else. */
    async rememberOthers(): Promise<void> {
      others = new Set(await allPorts().catch(() => []));
    },
    /** The path to open now: the first one where it is there, else one where the same board answers, else the first one. */
    async pathToOpen(): Promise<string> {
      if (board === undefined || (await deviceIdentity(home)) !== undefined) return home;
      for (const path of await allPorts().catch(() => []))
        if (path !== home && !others.has(path) && (await answersAtPort(path))) return path;
      return home;
    },
  };
}
