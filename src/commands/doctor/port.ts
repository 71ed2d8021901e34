// Judgements of the port: whether it is there, may be opened, is in use, and how well its line works. Pure.
import { forScreen } from '../../core/safe-text.ts';
import type { LineStats, Probe } from '../../link/probe.ts';
import { attention, bad, type Finding, ok } from './finding.ts';

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
  const [port, name] = [forScreen(path), forScreen(group.name)];
  if (mayOpen) return ok('permission', `you can read and write ${port} (group ${name})`);
  const says = `you can't read and write ${port} (group ${name})`;
  if (!group.allowed || joined)
    return bad('permission', says, `its group can't either; check the device's permissions (ls -l ${port})`);
  if (listed)
    return bad(
      'permission',
      `${says}; you are in that group, but this session isn't`,
      'log out and in again',
    );
  return bad(
    'permission',
    says,
    `join the group (sudo usermod -aG ${name} $USER), then log out and in again`,
  );
}

export function judgeUsers(path: string, users: readonly string[]): Finding {
  if (users.length === 0)
    return ok('holder', `no other program has ${forScreen(path)} open, as far as can be seen`);
  return bad(
    'holder',
    `${forScreen(path)} is open in ${users.join(', ')}`,
    'close it there, then run doctor again',
  );
}

const boardText = ({ board }: LineStats): string =>
  board
    ? `board ${forScreen(board.board)}, firmware ${forScreen(board.firmware)}, with ${forScreen(board.parts.join(', '))}`
    : "a board that hasn't said which one it is";

function qualityText(stats: LineStats, seconds: number): string {
  const { readings, lost, damaged } = stats;
  const rate = readings / seconds;
  return `${readings} readings in ${seconds} s (${rate.toFixed(1)} a second), ${lost} lines lost, ${damaged} damaged`;
}

/** What listening for this many seconds showed. */
export function judgeLine(probe: Probe, seconds: number): Finding {
  if (probe.kind === 'refused') return bad('line', probe.why, 'fix that, then run doctor again');
  const { stats } = probe;
  const says = `${boardText(stats)}; ${qualityText(stats, seconds)}`;
  if (stats.versionRefused)
    return bad(
      'line',
      `the board speaks version ${forScreen(stats.versionRefused.theirs)} of the bench line, this program version 1`,
      'install the firmware that came with this program, or update the program',
    );
  if (stats.board === null && stats.readings === 0) return judgeUnheard(stats, seconds);
  if (stats.unchecked > 0)
    return attention(
      'line',
      `bare numbers: ${qualityText(stats, seconds)}`,
      'readings arrive, but without damage check, lost-line count, feed or buttons',
    );
  if (stats.lost > 0 || stats.damaged > 0)
    return attention(
      'line',
      says,
      'no damaged line became a reading; try a shorter cable, away from the motor and its leads',
    );
  if (stats.restarts > 0)
    return attention('line', `${says}; it restarted`, 'check its power supply and its plugs');
  if (stats.readings === 0)
    return attention(
      'line',
      `${says}; no readings from the caliper`,
      'switch the caliper on, and check its cable',
    );
  return ok('line', says);
}

const judgeUnheard = ({ damaged }: LineStats, seconds: number): Finding =>
  damaged > 0
    ? attention(
        'line',
        `noise: ${damaged} lines, none of them a bench line`,
        "give the board's speed with --baud",
      )
    : attention(
        'line',
        `silent for ${seconds} s`,
        'check its power supply, its cable and its speed (--baud)',
      );
