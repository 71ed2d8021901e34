// What the line says, for people and for programs: each event as a sentence or a JSON object, and how well the line works.
import type { BoardFacts, LineEvent, LinkEvent } from '../core/bench/event.ts';
import { counted } from '../core/figures.ts';
import { forScreen } from '../core/safe-text.ts';
import type { Millis } from '../core/units.ts';
import type { LineStats } from '../link/probe.ts';
import { byKind } from '../screen/words.ts';

type Received = LineEvent | LinkEvent;

/** The version of the objects; it changes when a field is renamed, removed or means something else. */
const OBJECT_VERSION = 1;

/**
 * One event as an object for NDJSON: `kind` first, then `v`. Lengths are millimetres under keys ending in `Mm`, times
 * milliseconds under keys ending in `Ms`: `atMs` the board's, running on over wraps and restarts, `heardAtMs` the host's.
 */
export function eventObject(event: Received): Readonly<Record<string, unknown>> {
  const { kind, heardAt: heardAtMs } = event;
  const head = { kind, v: OBJECT_VERSION };
  switch (event.kind) {
    case 'reading-received': {
      const { value, unit, step, text, at } = event.reading;
      const { checked, raw } = event;
      return { ...head, valueMm: value, unit, stepMm: step, text, checked, atMs: at, heardAtMs, raw };
    }
    case 'feed-counted':
      return { ...head, total: event.total, atMs: event.at, heardAtMs, raw: event.raw };
    case 'board-found':
      return { ...head, ...event.facts, atMs: event.at, heardAtMs };
    default: {
      const { kind: _, heardAt: __, ...rest } = event;
      return { ...head, ...rest, heardAtMs };
    }
  }
}

const WHY = {
  'bad-checksum': 'its checksum is wrong',
  'too-long': 'it is too long',
  'bad-byte': "it has a byte that doesn't belong in a bench line",
  'bad-field': "one of its fields can't be read",
  unfinished: 'the port closed before the line ended',
  'not-a-line': "it isn't a bench line",
  'wrong-version': 'the board speaks another protocol version',
  repeated: 'it repeats the line before it',
} as const;

const seconds = (at: Millis): string => `${(at / 1000).toFixed(3).padStart(10)} s  `;

/** One event as a line to read, made safe to show. */
export const eventText = (event: Received): string => seconds(event.heardAt) + sentence(event);

const sentence = byKind<Received, string>({
  'reading-received': ({ reading, checked }) =>
    `${reading.text} ${reading.unit}${checked ? '' : '  (unchecked)'}`,
  'feed-counted': ({ total }) => `feed ${total}`,
  'button-changed': ({ button, down }) => `button ${button} ${down ? 'down' : 'up'}`,
  'board-found': ({ facts }) => boardText(facts),
  'board-restarted': 'the board restarted, so its feed total starts from 0 again',
  'feed-overran': "the feed was turned faster than the board can count, so don't trust its total",
  'board-fault': ({ code }) => `the board reports ${forScreen(code)}`,
  'lines-lost': ({ count }) => `${counted(count, 'line')} lost`,
  'line-discarded': ({ why, raw }) => `dropped, ${WHY[why]}: ${forScreen(raw)}`,
  'line-unknown': ({ raw }) => `unknown to this program: ${forScreen(raw)}`,
  'version-refused': ({ theirs, ours }) =>
    `the board speaks protocol version ${forScreen(theirs)}, this program version ${ours}. No readings until they match: install firmware for version ${ours}`,
  'line-silent': 'nothing received for 2 s',
  'line-speaking': 'receiving',
  'link-opened': ({ port }) => `${forScreen(port)} is open`,
  'link-lost': ({ port, why }) => `lost ${forScreen(port)}: ${forScreen(why, 240)}`,
  'link-refused': ({ why }) => forScreen(why, 240),
});

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
