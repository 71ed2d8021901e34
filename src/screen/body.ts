// The body of a screen: the huge number with its label and standing, the facts and the panel around it.
import { drawPanel, panelHeight } from './panels/draw.ts';
import { drawFactColumn, drawFacts } from './panels/facts/draw.ts';
import { drawNumber } from './panels/number/draw.ts';
import {
  type Block,
  beside,
  blockCentred,
  blockMiddle,
  blockWidth,
  centred,
  emptyRow,
  fitted,
  row,
  run,
  tall,
} from './picture.ts';
import type { Big, Panel, Scene } from './scene.ts';
import { atMost, shorten, textWidth, wrapped } from './text.ts';
import type { Glyphs } from './theme.ts';

export interface Room {
  readonly columns: number;
  /** Rows there are now. */
  readonly rows: number;
  /** Rows there usually are: the number keeps its size whatever the sentences below it take. */
  readonly usual: number;
  readonly glyphs: Glyphs;
}

/** From here on the facts stand beside the number instead of under it. */
const WIDE = 110;
const FACTS_WIDTH = 30;
/** Rows of a body below which it has no blank rows within it. */
const SNUG = 13;

const blanks = (count: number): Block => Array.from({ length: Math.max(0, count) }, () => emptyRow);
const isSnug = (room: Room): boolean => room.usual < SNUG;
/** A panel wants the row that a second line of the standing would take. */
const isTight = ({ panel }: Scene, room: Room): boolean => isSnug(room) && panel !== null;
/** Rows of a body from which on it stands clear of the head, and its parts of each other. */
const TALL = 28;
const isTall = (room: Room): boolean => room.usual >= TALL;

export function bodyOf(scene: Scene, room: Room): Block {
  const { big, panel } = scene;
  if (!big) return panel ? drawPanel(panel, room.columns, room.rows, room.glyphs) : [];
  if (panel?.kind === 'section') return besidePanel(scene, big, panel, room);
  return room.columns >= WIDE ? wide(scene, big, room) : narrow(scene, big, room);
}

/** Label, number, standing, facts, panel, from top to bottom. */
function narrow(scene: Scene, big: Big, room: Room): Block {
  const rows = room.usual - 2 - (isSnug(room) ? 0 : 1) - factRows(scene, room) - panelRows(scene, room);
  const facts = drawFacts(scene.facts, room.columns, isSnug(room) ? 1 : 2);
  const top = [...labelled(big, room.columns, rows, room.glyphs), ...blanks(isSnug(room) ? 0 : 1)];
  return withPanel(
    [...top, ...standingRows(scene, room.columns, isTight(scene, room)), ...facts],
    scene,
    room,
  );
}

/** The same with the facts in a column at the right. */
function wide(scene: Scene, big: Big, room: Room): Block {
  const width = scene.facts.length > 0 ? room.columns - FACTS_WIDTH - 1 : room.columns;
  const rows = room.usual - 3 - panelRows(scene, room);
  const said = standingRows(scene, width, isTight(scene, room));
  const top = [
    ...blanks(isTall(room) ? 2 : 0),
    ...labelled(big, width, rows, room.glyphs),
    ...blanks(isTall(room) ? 2 : 1),
    ...said,
    ...blanks(isTall(room) ? 1 : 0),
  ];
  if (scene.facts.length === 0) return withPanel(top, scene, room);
  const facts = blockMiddle(drawFactColumn(scene.facts, FACTS_WIDTH, top.length), top.length);
  return withPanel(beside([top.map((of) => fitted(of, width)), facts], 1), scene, room);
}

/** Columns for a number beside a panel: a length needs more than a count. */
const numberWidth = ({ text }: Big, columns: number): number =>
  text.length > 2 ? Math.min(58, Math.floor(columns * 0.5)) : Math.min(48, Math.floor(columns * 0.38));

/** A number of a digit or two leaves room for the panel at its side, which is as tall as the number. */
function besidePanel(scene: Scene, big: Big, panel: Panel, room: Room): Block {
  const said = standingRows(scene, room.columns, isTight(scene, room));
  const free = room.rows - said.length - (isSnug(room) ? 0 : 1) - (isTall(room) ? 4 : 0);
  const width = numberWidth(big, room.columns);
  const number = labelled(big, width, room.usual - 4 - (isSnug(room) ? 0 : 2), room.glyphs);
  const facts = drawFacts(scene.facts, room.columns, isSnug(room) ? 1 : 2).slice(
    0,
    Math.max(0, free - number.length),
  );
  const rows = free - facts.length;
  const drawing = drawPanel(panel, room.columns - width - 1, rows, room.glyphs);
  const upper = beside([number.map((of) => fitted(of, width)), drawing], 1);
  return [
    ...blanks(isTall(room) ? 2 : 0),
    ...tall(upper, rows),
    ...blanks(isSnug(room) ? 0 : 1),
    ...said,
    ...facts,
  ];
}

const labelled = (big: Big, columns: number, rows: number, glyphs: Glyphs): Block => [
  centred(row(run(shorten(big.label, columns), 'title')), columns),
  ...blockCentred(drawNumber(big, columns, Math.max(1, rows), glyphs), columns),
];

function withPanel(upper: Block, { panel }: Scene, room: Room): Block {
  const left = room.rows - upper.length;
  const gap = left > 3 && !isSnug(room) ? 1 : 0;
  const drawing = panel && left > 0 ? drawPanel(panel, room.columns, left - gap, room.glyphs) : [];
  return [...upper, ...blanks(gap), ...drawing];
}

/** Rows of facts that such a scene usually has. */
const factRows = ({ panel }: Scene, room: Room): number => (panel?.kind === 'bar' && !isSnug(room) ? 2 : 1);

const panelRows = ({ panel }: Scene, room: Room): number => (panel ? panelHeight(panel, room.usual) : 0);

/** The standing on one row; where it is too long for one, on up to four, if there is room. */
function standingRows({ standing }: Scene, columns: number, snug: boolean): Block {
  if (!standing) return [emptyRow];
  const { mark, word, about, style } = standing;
  const room = Math.max(1, columns - textWidth(word) - 6);
  const [first = '', ...more] = snug ? [shorten(about, room)] : wrapped(about, room);
  const rest = more.length > 0 ? atMost(wrapped(more.join(' '), columns - 2), 3, columns - 2) : [];
  const rows = [row(run(`${mark} ${word}`, style), run(`  ${first}`)), ...rest.map((line) => row(line))];
  return rows.map((of) => (blockWidth([of]) > columns ? fitted(of, columns) : centred(of, columns)));
}
