// Where everything stands: a head of two rows, the number and what belongs to it, and a foot with what to do, what to mind, and the keys.
import { drawPanel, panelHeight } from './panels/draw.ts';
import { drawNumber } from './panels/number/draw.ts';
import {
  type Block,
  beside,
  blockCentred,
  blockMiddle,
  blockWidth,
  centred,
  emptyRow,
  ends,
  type Row,
  row,
  run,
  type Style,
} from './picture.ts';
import type { Fact, KeyHint, Panel, Scene, Typing } from './scene.ts';
import { shorten, textWidth, wrapped } from './text.ts';
import type { Glyphs } from './theme.ts';

export interface Size {
  readonly columns: number;
  readonly rows: number;
}

export interface Frame {
  readonly head: readonly Row[];
  readonly notice: Row | null;
}

export interface LaidOut {
  readonly rows: Block;
  readonly cursor?: { readonly row: number; readonly column: number };
}

/** From here on the facts stand beside the number instead of under it. */
const WIDE = 110;
const FACTS_WIDTH = 38;
/** Rows below which blank rows are left out. */
const ROOMY = 22;
/** Rows of a body below which it has no blank rows within it. */
const SNUG = 13;
/** Rows that the foot usually takes: notice, what to do, what to mind, keys, and one for a second line of any. */
const USUAL_FOOT = 5;

/** The rows of a whole screen: head, body, foot. */
export function layOut(scene: Scene, frame: Frame, size: Size, glyphs: Glyphs): LaidOut {
  const foot = footOf(scene, frame, size);
  const gap = size.rows >= ROOMY ? 1 : 0;
  const room = Math.max(0, size.rows - frame.head.length - foot.length - gap);
  const usual = { columns: size.columns, rows: size.rows - frame.head.length - gap - USUAL_FOOT };
  const body = bodyOf(scene, { columns: size.columns, rows: room }, usual, glyphs);
  const rows = [...frame.head, ...blanks(gap), ...blockMiddleTop(body, room), ...foot];
  return scene.typing
    ? { rows, cursor: cursorFor(scene.typing, size.rows - foot.length + typingRow(scene, size)) }
    : { rows };
}

const blanks = (count: number): Block => Array.from({ length: count }, () => emptyRow);
const blockMiddleTop = (body: Block, room: number): Block =>
  [...body, ...blanks(room - body.length)].slice(0, room);

function bodyOf(scene: Scene, size: Size, usual: Size, glyphs: Glyphs): Block {
  return scene.big ? withNumber(scene, size, usual, glyphs) : drawPanelOf(scene, size, glyphs);
}

const drawPanelOf = (scene: Scene, { columns, rows }: Size, glyphs: Glyphs): Block =>
  scene.panel ? drawPanel(scene.panel, columns, rows, glyphs) : [];

/** Label, number and standing; the facts beside or under them; the panel below. */
function withNumber(scene: Scene, size: Size, usual: Size, glyphs: Glyphs): Block {
  const { big } = scene;
  if (!big) return [];
  const wide = size.columns >= WIDE;
  const spare = usual.rows >= SNUG ? 1 : 0;
  const width = wide ? size.columns - FACTS_WIDTH : size.columns;
  const number = drawNumber(big, width, numberRoom(scene, usual, wide), glyphs);
  const top = [
    centred(row(run(big.label, 'title')), width),
    ...blockCentred(number, width),
    ...blanks(spare),
    standingRow(scene, width),
  ];
  const facts = wide ? [] : factRows(scene.facts, size.columns, usual.rows < SNUG ? 1 : 2);
  const upper = wide ? besideFacts(top, scene.facts, width) : [...top, ...facts];
  const gap = size.rows - upper.length > MOST_PANEL_GAP ? spare : 0;
  return [
    ...upper,
    ...blanks(gap),
    ...drawPanelOf(scene, { columns: size.columns, rows: size.rows - upper.length - gap }, glyphs),
  ];
}

/** With fewer rows left for the panel than this no row is spent on a gap above it. */
const MOST_PANEL_GAP = 3;

/** Rows of facts that a stage with such a panel usually has. */
const FACT_ROWS: { readonly [kind in Panel['kind']]: number } = {
  trace: 1,
  bar: 2,
  section: 1,
  table: 1,
  words: 1,
  form: 1,
  jobs: 1,
};

/** Rows for the number out of the usual ones: never more or less for what the sentences around it say. */
function numberRoom(scene: Scene, { rows }: Size, wide: boolean): number {
  const facts = wide ? 0 : rows < SNUG ? 1 : FACT_ROWS[scene.panel?.kind ?? 'table'];
  const panel = scene.panel ? panelHeight(scene.panel, rows) : 0;
  return Math.max(1, rows - 2 - (rows >= SNUG ? 1 : 0) - facts - panel);
}

function standingRow({ standing }: Scene, columns: number): Row {
  if (!standing) return emptyRow;
  const about = shorten(standing.about, Math.max(0, columns - textWidth(standing.word) - 6));
  return centred(row(run(`${standing.mark} ${standing.word}`, standing.style), run(`  ${about}`)), columns);
}

/** As many facts as there is room for, in so many rows, in their order. */
function factRows(facts: readonly Fact[], columns: number, most: number): Block {
  const rows: Row[] = [];
  let line: Row = [];
  let used = 0;
  for (const { name, value } of facts) {
    const width = textWidth(name) + textWidth(value) + 1;
    if (used > 0 && used + 3 + width > columns - 2) {
      rows.push(line);
      line = [];
      used = 0;
    }
    if (rows.length === most) break;
    line = [
      ...line,
      run(used > 0 ? '   ' : ''),
      run(`${name} `, 'quiet'),
      run(shorten(value, columns - 4), 'strong'),
    ];
    used += width + (used > 0 ? 3 : 0);
  }
  const all = line.length > 0 ? [...rows, line] : rows;
  return all.slice(0, most).map((of) => centred(of, columns));
}

function besideFacts(top: Block, facts: readonly Fact[], width: number): Block {
  const lines = facts.flatMap(({ name, value }) => [
    row(run(name, 'quiet')),
    ...wrapped(value, FACTS_WIDTH - 4).map((line) => row('  ', run(line, 'strong'))),
  ]);
  const height = Math.max(top.length, 1);
  const column = blockMiddle(lines.slice(0, height), height);
  return beside([blockWidth(top) < width ? top.map((of) => centred(of, width)) : top, column], 1);
}

function footOf(scene: Scene, frame: Frame, size: Size): Block {
  const wide = size.columns - 4;
  const typing = scene.typing ? [typingLine(scene.typing, size.columns)] : [];
  const notice =
    frame.notice && !scene.typing ? [frame.notice] : size.rows >= ROOMY && !scene.typing ? [emptyRow] : [];
  return [
    ...notice,
    ...typing,
    ...lines(scene.next, wide, '▸', 'next'),
    ...lines(scene.caution ?? '', wide, '▲', 'caution'),
    keysRow(scene.keys, size.columns),
  ];
}

/** A sentence under its mark, on two rows where it does not fit on one. */
const lines = (said: string, width: number, mark: string, style: Style): Block =>
  wrapped(said, width)
    .slice(0, 2)
    .map((line, at) => row(run(at === 0 ? ` ${mark} ` : '   ', style), run(line, style)));

/** Where the line of typing stands in the foot, from its top. */
const typingRow = (_: Scene, __: Size): number => 0;

const typingLine = ({ asks, text }: Typing, columns: number): Row =>
  row(run(` ${asks}: `, 'title'), run(tail(text, columns - textWidth(asks) - 5), 'strong'));

/** The end of what is typed: where the cursor is. */
const tail = (text: string, width: number): string => {
  let kept = text;
  while (textWidth(kept) > width) kept = kept.slice(1);
  return kept;
};

const cursorFor = ({ asks, text }: Typing, at: number) => ({
  row: at,
  column: 3 + textWidth(asks) + textWidth(text),
});

/** As many keys as fit, the most needed first. */
function keysRow(keys: readonly KeyHint[], columns: number): Row {
  const parts: Row[] = [];
  let used = 0;
  for (const { key, does } of keys) {
    const width = textWidth(key) + textWidth(does) + 4;
    if (used + width > columns) break;
    parts.push(row('   ', run(key, 'key'), run(` ${does}`, 'quiet')));
    used += width;
  }
  return ends(row(...parts.flat()).slice(0), emptyRow, columns);
}
