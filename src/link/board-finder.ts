// Where a board is that came back at another port: only ports that are new since then are tried, and only its own id counts.
import type { Millis } from '../core/units.ts';
import { decode } from '../wire/decode.ts';
import { deviceIdentity } from './ports.ts';
import { probePort } from './probe.ts';

export interface BoardFinder {
  /** Remembers which board this is; cheap for every line but a HI. */
  notice(line: string): void;
  /** Remembers which other ports there are while this board is connected: they belong to somebody else. */
  rememberOthers(): Promise<void>;
  /** The path to open now: the first one where it is there, else one where the same board answers, else the first one. */
  pathToOpen(): Promise<string>;
}

export function createBoardFinder(
  home: string,
  allPorts: () => Promise<readonly string[]>,
  baud: number,
  now: () => Millis,
): BoardFinder {
  let board: string | undefined;
  let others: ReadonlySet<string> = new Set();

  const answersAtPort = async (path: string): Promise<boolean> => {
    const probe = await probePort(path, { baud, now, untilBoard: true });
    return probe.kind === 'listened' && probe.stats.board?.board === board;
  };

  return {
    notice(line) {
      if (!line.startsWith('HI,')) return;
      const heard = decode(line);
      if (heard.kind === 'hello') board = heard.board;
    },
    async rememberOthers() {
      others = new Set(await allPorts().catch(() => []));
    },
    async pathToOpen() {
      if (board === undefined || (await deviceIdentity(home)) !== undefined) return home;
      for (const path of await allPorts().catch(() => []))
        if (path !== home && !others.has(path) && (await answersAtPort(path))) return path;
      return home;
    },
  };
}
