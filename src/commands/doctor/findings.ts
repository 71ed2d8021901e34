// What the doctor finds: its state, in words, and what to do about it. Pure.
import { forScreen } from '../../core/safe-text.ts';
import type { Probe } from '../../link/probe.ts';
import type { Glyphs } from '../../screen/glyphs.ts';
import type { ColourDepth } from '../../screen/theme.ts';
import type { ExitCode } from '../command.ts';
import { lineQuality } from '../line-report.ts';

export interface Finding {
  readonly what: string;
  readonly state: 'ok' | 'attention' | 'bad';
  readonly says: string;
  /** What to do; nothing where all is well. */
  readonly todo?: string;
}

export const ok = (what: string, says: string): Finding => ({ what, state: 'ok', says });
const wrong =
  (state: 'attention' | 'bad') =>
  (what: string, says: string, todo: string): Finding => ({ what, state, says, todo });
export const attention = wrong('attention');
export const bad = wrong('bad');

/** 0 if all is well, 1 if something needs attention, 3 if something stops the bench. */
export function exitCodeOf(findings: readonly Finding[]): ExitCode {
  if (findings.some(({ state }) => state === 'bad')) return 3;
  return findings.some(({ state }) => state === 'attention') ? 1 : 0;
}

/** The finding as lines of text, with what to do under it. */
export const findingLines = ({ what, state, says, todo }: Finding): readonly string[] => [
  `${state.padEnd(10)} ${what.padEnd(11)}${says}`,
  ...(todo === undefined ? [] : [`${' '.repeat(22)}do: ${todo}`]),
];

/** The runtime's version, `20.11.1`, against the least that will do, `20.11`. */
export function judgeRuntime(version: string, least: string): Finding {
  const [have = [], need = []] = [version, least].map((text) => text.split('.').map(Number));
  const at = need.findIndex((part, place) => part !== (have[place] ?? 0));
  return at >= 0 && (have[at] ?? 0) < (need[at] ?? 0)
    ? bad('runtime', `Node ${version} is older than ${least}`, `install Node ${least} or newer`)
    : ok('runtime', `Node ${version}`);
}

/** The bench fits this, and stays usable at the least. */
const WHOLE = { columns: 80, rows: 24 } as const;
const LEAST = { columns: 60, rows: 16 } as const;

/** The output's columns and rows, 0 where the terminal doesn't say; undefined where the output isn't a terminal. */
export function judgeTerminal(
  size: { readonly columns: number; readonly rows: number } | undefined,
): Finding {
  const what = 'terminal';
  if (!size) return ok(what, 'output is not a terminal; size not checked');
  const { columns, rows } = size;
  const said = `${columns} columns, ${rows} rows`;
  const by = (of: typeof size): string => `${of.columns} by ${of.rows}`;
  if (columns === 0 || rows === 0) return ok(what, 'its size is unknown; assumed to be 80 by 24');
  const isUnder = (of: typeof size): boolean => columns < of.columns || rows < of.rows;
  if (isUnder(LEAST))
    return bad(
      what,
      `${said}: too small for the bench`,
      `make the window at least ${by(LEAST)}, or use smaller letters`,
    );
  if (isUnder(WHOLE))
    return attention(
      what,
      `${said}: the bench leaves things out`,
      `make the window ${by(WHOLE)} to see everything`,
    );
  return ok(what, said);
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
  const what = 'glyphs';
  if (chosen !== 'auto') return ok(what, `${chosen}, as set`);
  if (found === 'all') return ok(what, 'all (a UTF-8 locale)');
  if (found === 'blocks') return ok(what, 'blocks without Braille (a bare console)');
  return attention(
    what,
    'the locale is not UTF-8, so pictures are drawn in ASCII',
    'set LANG to a UTF-8 locale such as C.UTF-8, or use --glyphs ascii if the terminal can only show that',
  );
}

const DAY = 24 * 3600 * 1000;
const dayOf = (time: number): string => new Date(time).toISOString().slice(0, 16).replace('T', ' ');

/** The clock against the newest thing that is known to lie in the past: times in milliseconds since 1970. */
export const judgeClock = (now: number, newest: { readonly what: string; readonly at: number }): Finding =>
  now < newest.at - DAY
    ? bad(
        'clock',
        `${dayOf(now)} UTC, before ${newest.what} was written (${dayOf(newest.at)})`,
        "set this computer's clock, since jobs are sorted by their times",
      )
    : ok('clock', `${dayOf(now)} UTC`);

const MEBI = 1024 * 1024;
/** Enough for years of one bench, and for a few jobs; our own choices. */
const ROOM = 200 * MEBI;
const LEAST_ROOM = 5 * MEBI;

/** Free bytes where the jobs are kept, undefined where the system doesn't say, and whether that folder takes files. */
export function judgeDisk(folder: string, free: number | undefined, writable: boolean): Finding {
  const what = 'disk';
  if (free === undefined) return ok(what, 'this system does not say how much is free');
  const mebis = `${Math.floor(free / MEBI)} MiB free for ${folder}`;
  if (!writable)
    return bad(
      what,
      `you can't write to ${folder}`,
      'give yourself write permission there, or choose another folder with --home',
    );
  if (free < LEAST_ROOM) return bad(what, mebis, 'free some space, or the next job may not be saved');
  return free < ROOM ? attention(what, mebis, 'free some space soon') : ok(what, mebis);
}

export interface Access {
  readonly path: string;
  readonly mayOpen: boolean;
  /** The group that owns the device, and whether it may read and write it. */
  readonly group: { readonly name: string; readonly allowed: boolean };
  /** Whether this user is listed in the group, and whether this session has it. */
  readonly listed: boolean;
  readonly joined: boolean;
}

export function judgeAccess({ path, mayOpen, group, listed, joined }: Access): Finding {
  const what = 'permission';
  const [port, name] = [forScreen(path), forScreen(group.name)];
  if (mayOpen) return ok(what, `you can read and write ${port} (group ${name})`);
  const says = `you can't read and write ${port} (group ${name})`;
  if (!group.allowed || joined)
    return bad(what, `${says}, and its group can't either`, `check the device's permissions (ls -l ${port})`);
  if (listed)
    return bad(what, `${says}; you are in that group, but this session isn't`, 'log out and in again');
  return bad(what, says, `join the group (sudo usermod -aG ${name} $USER), then log out and in again`);
}

export const judgeUsers = (path: string, users: readonly string[]): Finding =>
  users.length === 0
    ? ok('holder', `no other program seems to have ${forScreen(path)} open`)
    : bad(
        'holder',
        `${forScreen(path)} is open in ${users.join(', ')}`,
        'close it there, then run doctor again',
      );

/** What listening for this many seconds showed. */
export function judgeLine(probe: Probe, seconds: number): Finding {
  if (probe.kind === 'refused') return bad('line', probe.why, 'fix that, then run doctor again');
  const { state, says, todo } = lineQuality(probe.stats, seconds);
  if (todo === undefined) return ok('line', says);
  return state === 'other version' ? bad('line', says, todo) : attention('line', says, todo);
}
