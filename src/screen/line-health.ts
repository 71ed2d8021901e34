// How the line is, in a few words: the worst first, and never a rate that is out of date.
import { rateOf, wantsReadings } from '../core/bench/line.ts';
import { type Bench, STALE_AFTER } from '../core/bench/state.ts';
import { counted } from '../core/figures.ts';
import { MARKS } from './scene.ts';
import { type Style, safe } from './text.ts';

export interface Health {
  readonly mark: string;
  readonly text: string;
  readonly style: Style;
  /** Lines lost, damaged and unknown, where there are any. */
  readonly counts: string;
  /** The same as one sum, for where there is little room. */
  readonly sum: string;
}

/** Milliseconds since the last reading was heard; null before any. */
export const silentFor = (bench: Bench): number | null =>
  bench.live ? Math.max(0, bench.now - bench.live.heardAt) : null;

export function healthOf(bench: Bench): Health {
  return { ...wordFor(bench), counts: countsOf(bench), sum: sumOf(bench) };
}

function wordFor(bench: Bench): Omit<Health, 'counts' | 'sum'> {
  const { line } = bench;
  if (line.versionRefused)
    return bad(
      `board speaks version ${safe(line.versionRefused.theirs, 12)}, not ${line.versionRefused.ours}`,
    );
  if (!line.open && line.trouble) return bad(safe(whatHappened(line.trouble), 48));
  if (!line.open) return { mark: MARKS.open, text: 'no board: type the readings', style: 'quiet' };
  const silence = silentFor(bench);
  if (line.silent || (silence !== null && silence > STALE_AFTER && wantsReadings(bench)))
    return {
      mark: MARKS.alert,
      text: silence === null ? 'silent' : `silent ${seconds(silence)}`,
      style: 'bad',
    };
  if (line.checked === null) return { mark: MARKS.open, text: 'listening', style: 'quiet' };
  if (bench.teaching?.paused) return { mark: MARKS.half, text: `${boardName(bench)}, paused`, style: 'near' };
  const heard = bench.live ? Math.round(rateOf(line, bench.now)) : 0;
  const rate = heard > 0 ? ` ${heard}/s` : '';
  if (!line.checked) return { mark: MARKS.half, text: `unchecked numbers${rate}`, style: 'near' };
  return { mark: MARKS.full, text: `${boardName(bench)}${paceWords(bench)}${rate}`, style: 'good' };
}

const boardName = ({ line }: Bench): string => safe(line.board?.board ?? 'board', 20);

/** How fast the virtual bench's time runs, where it isn't as in life. */
function paceWords({ teaching }: Bench): string {
  const { pace } = teaching ?? { pace: 1 };
  return pace === 1 ? '' : ` (speed ${pace < 1 ? `1/${1 / pace}` : pace})`;
}

const bad = (text: string): Omit<Health, 'counts' | 'sum'> => ({ mark: MARKS.cross, text, style: 'bad' });
const seconds = (milliseconds: number): string => {
  const whole = Math.floor(milliseconds / 1000);
  return whole < 100 ? `${whole} s` : `${Math.floor(whole / 60)} min`;
};

const countsOf = ({ line }: Bench): string =>
  [
    line.lost > 0 ? `${line.lost} lost` : '',
    line.damaged > 0 ? `${line.damaged} damaged` : '',
    line.unknown > 0 ? `${line.unknown} unknown` : '',
    line.restarts > 0 ? counted(line.restarts, 'restart') : '',
  ]
    .filter((part) => part !== '')
    .join(', ');

function sumOf({ line: { lost, damaged, unknown, restarts } }: Bench): string {
  const sum = lost + damaged + unknown + restarts;
  return sum > 0 ? counted(sum, 'fault') : '';
}

/** What happened, without the guess or the cure after it: `doctor` has the room for those. */
const whatHappened = (text: string): string => text.replace(/[.,] .*$/s, '');
