// The foot of a screen: what was done or typed, what to do next, what to mind, and the keys.
import type { Bench, Notice } from '../core/bench/state.ts';
import { counted } from '../core/figures.ts';
import { type KeyHint, MARKS, type Scene, type Typing } from './scene.ts';
import { type Block, emptyRow, row, run, type Style, type StyledRow } from './styled-text.ts';
import { atMost, textWidth, wrapped } from './text.ts';
import { noticeWords } from './words.ts';

const MOST_ROWS = 3;

/** The foot's rows from top to bottom; `roomy` leaves a blank row for an empty one. */
export function footRows(bench: Bench, scene: Scene, columns: number, roomy: boolean): Block {
  return [
    ...firstRows(bench, scene, columns, roomy),
    ...sentence(scene.next, columns, MARKS.next, 'next'),
    ...(scene.caution ? sentence(scene.caution, columns, MARKS.alert, 'caution') : []),
    ...keyRows(scene.keys, columns),
  ];
}

/** A sentence under its mark, on more rows where it does not fit on one. */
const sentence = (said: string, columns: number, mark: string, style: Style): Block =>
  atMost(wrapped(said, columns - 4), MOST_ROWS, columns - 4).map((line, at) =>
    row(run(at === 0 ? ` ${mark} ` : '   ', style), run(line, style)),
  );

/** What is not saved, was asked, done or not done, and under it what is typed. */
function firstRows(bench: Bench, { typing }: Scene, columns: number, roomy: boolean): Block {
  const said = saidRows(bench, columns);
  if (typing) return [...said, typingRow(typing, columns)];
  return said.length === 0 && roomy ? [emptyRow] : said;
}

function saidRows(bench: Bench, columns: number): Block {
  const { unsaved, notice, help, mode, unit } = bench;
  if (unsaved.length > 0) return sentence(unsavedText(unsaved.length), columns, MARKS.cross, 'bad');
  if (!notice || help || mode.kind === 'form' || isOldNews(bench)) return [];
  const [mark, style] = GOOD_NEWS.has(notice.kind)
    ? ([MARKS.full, 'good'] as const)
    : ([MARKS.cross, 'bad'] as const);
  return sentence(noticeWords(notice, unit), columns, mark, style);
}

const unsavedText = (count: number): string =>
  `NOT SAVED yet: ${counted(count, 'entry', 'entries')}. Trying again every few seconds. Don't leave.`;

const GOOD_NEWS: ReadonlySet<Notice['kind']> = new Set(['kept', 'undone', 'feed-kept', 'mishap']);

/** What the number or its standing says by now is not said twice. */
function isOldNews({ notice, job, readings, capture, mode }: Bench): boolean {
  if (!notice || !job || mode.kind !== 'stage') return false;
  const part = job.stage === 'bore thread' ? 'female' : job.stage === 'spigot thread' ? 'male' : null;
  const tracker = part && job.threads[part].tracker;
  if (notice.kind === 'depth-voided') return notice.part === part;
  if (notice.kind !== 'kept') return false;
  if (notice.what === 'job-begun') return readings.length > 0 || (capture?.readings.length ?? 0) > 0;
  return notice.what === 'touched-off' && tracker?.kind === 'tracking' && tracker.count !== tracker.touchedAt;
}

/** What is typed, its end where it is long, with the cursor behind it. */
function typingRow({ asks, text }: Typing, columns: number): StyledRow {
  const characters = [...text];
  while (textWidth(characters.join('')) > columns - textWidth(asks) - 5) characters.shift();
  return row(run(` ${asks}: `, 'title'), run(characters.join(''), 'strong'), run(' ', 'cursor'));
}

const hintWidth = ({ key, does }: KeyHint): number => textWidth(key) + textWidth(does) + 4;

/** The keys: one row with the most needed first and the help, which names them all; without help, all of them. */
function keyRows(keys: readonly KeyHint[], columns: number): Block {
  const help = keys.find(({ key }) => key === '?');
  const rows: KeyHint[][] = [[]];
  let left = columns - (help ? hintWidth(help) : 0);
  for (const hint of keys.filter((one) => one !== help)) {
    left -= hintWidth(hint);
    if (left < 0 && help) break;
    if (left < 0) {
      rows.push([]);
      left = columns - hintWidth(hint);
    }
    rows.at(-1)?.push(hint);
  }
  if (help) rows[0]?.splice(keys.indexOf(help), 0, help);
  return rows.filter((hints) => hints.length > 0).map(keysRow);
}

const keysRow = (hints: readonly KeyHint[]): StyledRow =>
  hints.flatMap(({ key, does }) => row('   ', run(key, 'key'), run(` ${does}`, 'quiet')));
