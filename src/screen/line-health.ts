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

export const healthOf = (bench: Bench): Health => ({ ...wordFor(bench), ...countsOf(bench) });

type Word = Pick<Health, 'mark' | 'text' | 'style'>;
const word = (mark: string, text: string, style: Style): Word => ({ mark, text, style });

function wordFor(bench: Bench): Word {
  const { line } = bench;
  if (line.versionRefused) {
    const { theirs, ours } = line.versionRefused;
    return word(MARKS.cross, `board speaks version ${safe(theirs, 12)}, not ${ours}`, 'bad');
  }
  if (!line.open && line.trouble) return word(MARKS.cross, safe(whatHappened(line.trouble), 48), 'bad');
  if (!line.open) return word(MARKS.open, 'no board: type the readings', 'quiet');
  const silence = silentFor(bench);
  if (line.silent || (silence !== null && silence > STALE_AFTER && wantsReadings(bench)))
    return word(MARKS.alert, silence === null ? 'silent' : `silent ${seconds(silence)}`, 'bad');
  if (line.checked === null) return word(MARKS.open, 'listening', 'quiet');
  if (bench.teaching?.paused) return word(MARKS.half, `${boardName(bench)}, paused`, 'near');
  const heard = bench.live ? Math.round(rateOf(line, bench.now)) : 0;
  const rate = heard > 0 ? ` ${heard}/s` : '';
  return line.checked
    ? word(MARKS.full, `${boardName(bench)}${paceWords(bench)}${rate}`, 'good')
    : word(MARKS.half, `unchecked numbers${rate}`, 'near');
}

const boardName = ({ line }: Bench): string => safe(line.board?.board ?? 'board', 20);

/** How fast the virtual bench's time runs, where it isn't as in life. */
function paceWords({ teaching }: Bench): string {
  const { pace } = teaching ?? { pace: 1 };
  return pace === 1 ? '' : ` (speed ${pace < 1 ? `1/${1 / pace}` : pace})`;
}

const seconds = (milliseconds: number): string => {
  const whole = Math.floor(milliseconds / 1000);
  return whole < 100 ? `${whole} s` : `${Math.floor(whole / 60)} min`;
};

function countsOf({ line: { lost, damaged, unknown, restarts } }: Bench): Pick<Health, 'counts' | 'sum'> {
  const faults = { lost, damaged, unknown };
  const said = Object.entries(faults).flatMap(([name, count]) => (count > 0 ? [`${count} ${name}`] : []));
  const counts = restarts > 0 ? [...said, counted(restarts, 'restart')] : said;
  const sum = lost + damaged + unknown + restarts;
  return { counts: counts.join(', '), sum: sum > 0 ? counted(sum, 'fault') : '' };
}

/** What happened, without the guess or the cure after it: `doctor` has the room for those. */
const whatHappened = (text: string): string => text.replace(/[.,] .*$/s, '');
