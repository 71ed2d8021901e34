// How well a port's line works, from what listening to it showed: one judgement for `ports` and `doctor`.
import type { BoardFacts } from '../core/bench/event.ts';
import { counted } from '../core/figures.ts';
import { forScreen } from '../core/safe-text.ts';
import type { LineStats } from '../link/probe.ts';

export interface LineQuality {
  /** For programs. */
  readonly state: 'speaks' | 'speaks unchecked' | 'other version' | 'noise' | 'silent';
  readonly says: string;
  /** What to do; undefined where all is well. */
  readonly todo?: string;
}

export const boardText = ({ board, firmware, parts }: BoardFacts): string =>
  `board ${forScreen(board)}, firmware ${forScreen(firmware)}, with ${forScreen(parts.join(', ')) || 'nothing'}`;

function countsText({ readings, lost, damaged }: LineStats, seconds: number): string {
  const rate = `${counted(readings, 'reading')} in ${seconds} s (${(readings / seconds).toFixed(1)} a second)`;
  return `${rate}, ${counted(lost, 'line')} lost, ${damaged} damaged`;
}

/** What to do about a board that speaks; undefined where all is well. */
function careFor({ lost, damaged, restarts, readings }: LineStats): readonly [string, string] | undefined {
  if (lost > 0 || damaged > 0)
    return ['', 'try a shorter cable, away from the motor and its leads (no damaged line became a reading)'];
  if (restarts > 0) return ['; it restarted', "check the board's power supply and its plugs"];
  if (readings > 0) return undefined;
  return ['; no readings from the caliper', 'switch the caliper on, and check its cable'];
}

export function lineQuality(stats: LineStats, seconds: number): LineQuality {
  const { board, versionRefused, readings, unchecked, damaged } = stats;
  if (versionRefused)
    return {
      state: 'other version',
      says: `the board speaks version ${forScreen(versionRefused.theirs)} of the bench line, this program version ${versionRefused.ours}`,
      todo: 'install the firmware that came with this program, or update the program',
    };
  const counts = countsText(stats, seconds);
  if (unchecked > 0)
    return {
      state: board ? 'speaks' : 'speaks unchecked',
      says: `bare numbers, without damage check, lost-line count, feed or buttons: ${counts}`,
      todo: 'carry on, or use a board with the bench firmware to get these too',
    };
  if (board || readings > 0) {
    const named = board ? boardText(board) : "a board that hasn't said which one it is";
    const [found = '', todo] = careFor(stats) ?? [];
    return { state: 'speaks', says: `${named}; ${counts}${found}`, ...(todo && { todo }) };
  }
  return damaged > 0
    ? {
        state: 'noise',
        says: `noise: ${counted(damaged, 'line')}, none of them a bench line`,
        todo: "give the board's speed with --baud",
      }
    : {
        state: 'silent',
        says: `silent for ${seconds} s`,
        todo: "check the board's power supply, its cable and its speed (--baud)",
      };
}
