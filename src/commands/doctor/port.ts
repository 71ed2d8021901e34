// Judgements of the port: whether it is there, may be opened, is held by somebody, and how well the line speaks. Pure.

import { forScreen } from '../../core/safe-text.ts';
import type { Probe } from '../../link/probe.ts';
import type { Tally } from '../../link/tally.ts';
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
  if (mayOpen) return ok('permission', `you may read and write ${port} (group ${name})`);
  const says = `you may not read and write ${port} (group ${name})`;
  if (!group.allowed || joined)
    return bad(
      'permission',
      says,
      `its own group may not either: look at the device's permissions (ls -l ${port})`,
    );
  if (listed)
    return bad(
      'permission',
      `${says}; you are in that group, but not in this session`,
      'log out and in again',
    );
  return bad(
    'permission',
    says,
    `join the group (sudo usermod -aG ${name} $USER), then log out and in again`,
  );
}

export function judgeHolders(path: string, holders: readonly string[]): Finding {
  if (holders.length === 0) return ok('holder', `no program that can be seen holds ${forScreen(path)}`);
  return bad('holder', `${forScreen(path)} is open in ${holders.join(', ')}`, 'end it there, then ask again');
}

const boardText = ({ board }: Tally): string =>
  board
    ? `board ${forScreen(board.board)}, firmware ${forScreen(board.firmware)}, with ${forScreen(board.parts.join(', '))}`
    : 'a board that has not said who it is';

function qualityText(heard: Tally, seconds: number): string {
  const { readings, lost, discarded } = heard;
  const rate = readings / seconds;
  return `${readings} readings in ${seconds} s (${rate.toFixed(1)} a second), ${lost} lines lost, ${discarded} damaged`;
}

/** What listening for this many seconds told. */
export function judgeLine(probe: Probe, seconds: number): Finding {
  if (probe.kind === 'refused') return bad('line', probe.why, 'see to that, then ask again');
  const { heard } = probe;
  const says = `${boardText(heard)}; ${qualityText(heard, seconds)}`;
  if (heard.otherVersion !== undefined)
    return bad(
      'line',
      `the board speaks version ${forScreen(heard.otherVersion)} of the bench line, and this program version 1`,
      'flash the image that came with this program, or update the program',
    );
  if (heard.board === undefined && heard.readings === 0) return judgeUnheard(heard, seconds);
  if (heard.unchecked > 0)
    return attention(
      'line',
      `bare numbers: ${qualityText(heard, seconds)}`,
      'nothing is needed, but there is no damage check, no lost-line count, no feed and no button',
    );
  if (heard.lost > 0 || heard.discarded > 0)
    return attention(
      'line',
      says,
      'none of them was taken for a reading; try a shorter cable, away from the motor and its leads',
    );
  if (heard.restarts > 0)
    return attention('line', `${says}; it restarted`, 'look at its supply and its plugs');
  if (heard.readings === 0)
    return attention('line', `${says}; no caliper is heard`, 'switch the caliper on, and look at its lead');
  return ok('line', says);
}

const judgeUnheard = ({ discarded }: Tally, seconds: number): Finding =>
  discarded > 0
    ? attention(
        'line',
        `noise: ${discarded} lines, none a bench line`,
        'give the speed of the board with --baud',
      )
    : attention(
        'line',
        `silent for ${seconds} s`,
        'look at its supply and its cable, and its speed (--baud)',
      );
