// Where a board went that came back at another port: only ports that appeared since are tried, and only its own id counts.
import type { Millis } from '../core/units.ts';
import { decode } from '../wire/decode.ts';
import { identityOf } from './presence.ts';
import { probePort } from './probe.ts';

export interface Whereabouts {
  /** Remembers who spoke; cheap for every line that is no HI. */
  notice(line: string): void;
  /** Remembers which other ports were there while this board was: they are somebody else's. */
  settle(): Promise<void>;
  /** The path to open now: the own one where it is there, else one where the same board answers, else the own one. */
  next(): Promise<string>;
}

export function createWhereabouts(
  home: string,
  others: () => Promise<readonly string[]>,
  baud: number,
  now: () => Millis,
): Whereabouts {
  let board: string | undefined;
  let foreign: ReadonlySet<string> = new Set();

  const answersAs = async (path: string): Promise<boolean> => {
    const probe = await probePort(path, { baud, now, untilBoard: true });
    return probe.kind === 'listened' && probe.heard.board?.board === board;
  };

  return {
    notice(line) {
      if (!line.startsWith('HI,')) return;
      const heard = decode(line);
      if (heard.kind === 'hello') board = heard.board;
    },
    async settle() {
      foreign = new Set(await others().catch(() => []));
    },
    async next() {
      if (board === undefined || (await identityOf(home)) !== undefined) return home;
      for (const path of await others().catch(() => []))
        if (path !== home && !foreign.has(path) && (await answersAs(path))) return path;
      return home;
    },
  };
}
