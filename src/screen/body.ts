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
  type Row,
  row,
  run,
} from './picture.ts';
import type { Big, Panel, Scene } from './scene.ts';
import { shorten, textWidth } from './text.ts';
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
  return withPanel([...top, standingRow(scene, room.columns), ...facts], scene, room);
}

/** The same with the facts in a column at the right. */
function wide(scene: Scene, big: Big, room: Room): Block {
  const width = room.columns - FACTS_WIDTH - 1;
  const rows = room.usual - 3 - panelRows(scene, room);
  const top = [...labelled(big, width, rows, room.glyphs), emptyRow, standingRow(scene, width)];
  const facts = blockMiddle(drawFactColumn(scene.facts, FACTS_WIDTH, top.length), top.length);
  return withPanel(beside([top.map((of) => fitted(of, width)), facts], 1), scene, room);
}

/** A number of a digit or two leaves room for the panel at its side, which is as tall as the number. */
function besidePanel(scene: Scene, big: Big, panel: Panel, room: Room): Block {
  const facts = drawFacts(scene.facts, room.columns, isSnug(room) ? 1 : 2);
  const rows = room.rows - facts.length - 1 - (isSnug(room) ? 0 : 1);
  const width = Math.min(48, Math.floor(room.columns * 0.4));
  const number = labelled(big, width, room.usual - 4 - (isSnug(room) ? 0 : 2), room.glyphs);
  const drawing = drawPanel(panel, room.columns - width - 1, rows, room.glyphs);
  const upper = beside([number.map((of) => fitted(of, width)), drawing], 1);
  return [
    ...blockMiddle(upper, rows).slice(0, rows),
    ...blanks(isSnug(room) ? 0 : 1),
    standingRow(scene, room.columns),
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

function standingRow({ standing }: Scene, columns: number): Row {
  if (!standing) return emptyRow;
  const about = shorten(standing.about, Math.max(0, columns - textWidth(standing.word) - 6));
  const said = row(run(`${standing.mark} ${standing.word}`, standing.style), run(`  ${about}`));
  return blockWidth([said]) > columns ? fitted(said, columns) : centred(said, columns);
}
