// Judgements of what surrounds the program: runtime, terminal, colour, glyphs, clock, disk. Pure: facts in, findings out.
import type { Glyphs } from '../../screen/glyphs.ts';
import type { ColourDepth } from '../../screen/theme.ts';
import { attention, bad, type Finding, ok } from './finding.ts';

/** The bench fits this, and stays usable at the least. */
const WHOLE = { columns: 80, rows: 24 } as const;
const LEAST = { columns: 60, rows: 16 } as const;

const MEBI = 1024 * 1024;
/** Years of one bench; and what a few jobs may need. Our own choices. */
const ROOM = 200 * MEBI;
const LEAST_ROOM = 5 * MEBI;
const DAY = 24 * 3600 * 1000;

/** The runtime's version, `20.11.1`, against the least that will do, `20.11`. */
export function judgeRuntime(version: string, least: string): Finding {
  const [have, need] = [version, least].map((text) => text.split('.').map(Number));
  const at = (need ?? []).findIndex((part, place) => part !== (have?.[place] ?? 0));
  const older = at >= 0 && (have?.[at] ?? 0) < (need?.[at] ?? 0);
  return older
    ? bad('runtime', `Node ${version} is older than ${least}`, `install Node ${least} or newer`)
    : ok('runtime', `Node ${version}`);
}

export interface TerminalFacts {
  readonly isTerminal: boolean;
  readonly columns: number;
  readonly rows: number;
}

export function judgeTerminal({ isTerminal, columns, rows }: TerminalFacts): Finding {
  if (!isTerminal) return ok('terminal', 'none on this output: its size is not looked at');
  const size = `${columns} columns, ${rows} rows`;
  const least = `${LEAST.columns} by ${LEAST.rows}`;
  if (columns === 0 || rows === 0) return ok('terminal', 'does not tell its size: taken to be 80 by 24');
  if (columns < LEAST.columns || rows < LEAST.rows)
    return bad(
      'terminal',
      `${size}: too small for the bench`,
      `make the window at least ${least}, or the letters smaller`,
    );
  if (columns < WHOLE.columns || rows < WHOLE.rows)
    return attention(
      'terminal',
      `${size}: the bench leaves things out`,
      `make the window ${WHOLE.columns} by ${WHOLE.rows} to see all`,
    );
  return ok('terminal', size);
}

const COLOURS: { readonly [depth in ColourDepth]: string } = {
  bare: 'none, and no bold either (a plain terminal)',
  none: 'none, as asked; words and shapes say the same',
  '16': '16 colours',
  '256': '256 colours',
};

export const judgeColour = (depth: ColourDepth): Finding => ok('colour', COLOURS[depth]);

/** `chosen` where a setting says so, `found` from the locale. */
export function judgeGlyphs(chosen: Glyphs | 'auto', found: Glyphs): Finding {
  if (chosen !== 'auto') return ok('glyphs', `${chosen}, as set`);
  switch (found) {
    case 'all':
      return ok('glyphs', 'all (a UTF-8 locale)');
    case 'blocks':
      return ok('glyphs', 'blocks without Braille (a bare console)');
    case 'ascii':
      return attention(
        'glyphs',
        'the locale is not UTF-8: pictures are drawn in ASCII',
        'set LANG to a UTF-8 locale such as C.UTF-8, or --glyphs ascii if that is all the terminal can show',
      );
    default:
      return found satisfies never;
  }
}

const dayOf = (time: number): string => new Date(time).toISOString().slice(0, 16).replace('T', ' ');

/** The clock against the newest thing that is known to lie in the past: times in milliseconds since 1970. */
export function judgeClock(now: number, newest: { readonly what: string; readonly at: number }): Finding {
  if (now < newest.at - DAY)
    return bad(
      'clock',
      `${dayOf(now)} UTC, before ${newest.what} was written (${dayOf(newest.at)})`,
      'set the clock of this computer; jobs are kept in the order of their times',
    );
  return ok('clock', `${dayOf(now)} UTC`);
}

/** Free bytes where the jobs are kept, and whether that folder takes files. */
export function judgeDisk(folder: string, free: number, writable: boolean): Finding {
  const mebis = `${Math.floor(free / MEBI)} MiB free for ${folder}`;
  if (!writable)
    return bad(
      'disk',
      `${folder} may not be written by you`,
      'give yourself write permission there, or another folder with --home',
    );
  if (free < LEAST_ROOM) return bad('disk', mebis, 'free some space: the next job may not be kept');
  if (free < ROOM) return attention('disk', mebis, 'free some space before long');
  return ok('disk', mebis);
}
