// What surrounds the program, gathered without changing anything, and judged: runtime, terminal, colour, glyphs, clock, disk, a port's permissions.

import { accessSync, constants, existsSync, readFileSync, statfsSync, statSync } from 'node:fs';
import { userInfo } from 'node:os';
import { dirname } from 'node:path';
import type { Glyphs } from '../../screen/glyphs.ts';
import type { ColourDepth } from '../../screen/theme.ts';
import { attention, bad, type Finding, ok } from './finding.ts';
import type { Access } from './port.ts';

/** The folder itself, or the nearest above it that exists. */
export function nearestFolder(path: string): string {
  let folder = path;
  while (!existsSync(folder) && dirname(folder) !== folder) folder = dirname(folder);
  return folder;
}

export function may(path: string, mode: number): boolean {
  try {
    accessSync(path, mode);
    return true;
  } catch {
    return false;
  }
}

/** Free bytes for this user; undefined where the system does not say. */
export function freeBytes(folder: string): number | undefined {
  try {
    const { bavail, bsize } = statfsSync(folder);
    return bavail * bsize;
  } catch {
    return undefined;
  }
}

/** Lines of the group file: name, password, id, members (group(5)). */
interface Group {
  readonly name: string;
  readonly members: readonly string[];
}

/** The group of this id in the text of a group file. */
function groupIn(text: string, id: number): Group | undefined {
  const fields = text.split('\n').map((line) => line.split(':'));
  const found = fields.find(([, , gid]) => gid === String(id));
  return (
    found && { name: found[0] ?? '', members: (found[3] ?? '').split(',').filter((name) => name !== '') }
  );
}

function groupFile(): string {
  try {
    return readFileSync('/etc/group', 'utf8');
  } catch {
    return '';
  }
}

const GROUP_MAY = 0o060;

/** Whether the port may be opened, and by which group; null where the device does not exist. */
export function accessTo(path: string): Access | null {
  const device = statSync(path, { throwIfNoEntry: false });
  if (!device) return null;
  const group = groupIn(groupFile(), device.gid);
  return {
    path,
    mayOpen: may(path, constants.R_OK | constants.W_OK),
    group: { name: group?.name ?? String(device.gid), allowed: (device.mode & GROUP_MAY) === GROUP_MAY },
    listed: group?.members.includes(userInfo().username) ?? false,
    joined: process.getgroups?.().includes(device.gid) ?? false,
  };
}

/** The newest of these files, by the time it was last written. */
export function newestOf(files: readonly { readonly what: string; readonly path: string }[]) {
  const times = files.map(({ what, path }) => ({
    what,
    at: statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0,
  }));
  return times.reduce((newest, each) => (each.at > newest.at ? each : newest), {
    what: 'this program',
    at: 0,
  });
}

/** The bench fits this, and stays usable at the least. */
const WHOLE = { columns: 80, rows: 24 } as const;
const LEAST = { columns: 60, rows: 16 } as const;

const MEBI = 1024 * 1024;
/** Enough for years of one bench, and for a few jobs; our own choices. */
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

interface TerminalFacts {
  readonly isTerminal: boolean;
  readonly columns: number;
  readonly rows: number;
}

export function judgeTerminal({ isTerminal, columns, rows }: TerminalFacts): Finding {
  if (!isTerminal) return ok('terminal', 'output is not a terminal; size not checked');
  const size = `${columns} columns, ${rows} rows`;
  const least = `${LEAST.columns} by ${LEAST.rows}`;
  if (columns === 0 || rows === 0) return ok('terminal', 'its size is unknown; assumed to be 80 by 24');
  if (columns < LEAST.columns || rows < LEAST.rows)
    return bad(
      'terminal',
      `${size}: too small for the bench`,
      `make the window at least ${least}, or use smaller letters`,
    );
  if (columns < WHOLE.columns || rows < WHOLE.rows)
    return attention(
      'terminal',
      `${size}: the bench leaves things out`,
      `make the window ${WHOLE.columns} by ${WHOLE.rows} to see everything`,
    );
  return ok('terminal', size);
}

const COLOURS: { readonly [depth in ColourDepth]: string } = {
  bare: 'none, and no bold (a plain terminal)',
  none: 'off, as set; words and shapes say everything too',
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
        'the locale is not UTF-8, so pictures are drawn in ASCII',
        'set LANG to a UTF-8 locale such as C.UTF-8, or use --glyphs ascii if the terminal can only show that',
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
      "set this computer's clock; jobs are sorted by their times",
    );
  return ok('clock', `${dayOf(now)} UTC`);
}

/** Free bytes where the jobs are kept, and whether that folder takes files. */
export function judgeDisk(folder: string, free: number, writable: boolean): Finding {
  const mebis = `${Math.floor(free / MEBI)} MiB free for ${folder}`;
  if (!writable)
    return bad(
      'disk',
      `you can't write to ${folder}`,
      'give yourself write permission there, or choose another folder with --home',
    );
  if (free < LEAST_ROOM) return bad('disk', mebis, 'free some space, or the next job may not be saved');
  if (free < ROOM) return attention('disk', mebis, 'free some space soon');
  return ok('disk', mebis);
}
