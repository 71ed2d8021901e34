// Where everything stands: a head of two rows, the body, and the foot.
import { bodyOf } from './body.ts';
import { footOf, type Notice, typingColumn } from './foot.ts';
import { type Block, emptyRow, type Row, tall } from './picture.ts';
import type { Scene } from './scene.ts';
import type { Size } from './terminal.ts';
import type { Glyphs } from './theme.ts';

export interface Frame {
  readonly head: readonly Row[];
  readonly notice: Notice | null;
}

export interface LaidOut {
  readonly rows: Block;
  readonly cursor?: { readonly row: number; readonly column: number };
}

/** Rows from which on a blank one parts head, body and foot. */
const ROOMY = 22;
/** Rows that the foot usually takes: notice, what to do, what to mind, keys, and one for a second line of any. */
const USUAL_FOOT = 5;

/** The rows of a whole screen. */
export function layOut(scene: Scene, frame: Frame, size: Size, glyphs: Glyphs): LaidOut {
  const { columns, rows } = size;
  const roomy = rows >= ROOMY;
  const head = roomy ? [...frame.head, emptyRow] : frame.head;
  const foot = footOf(scene, frame.notice, columns, roomy);
  const room = rows - head.length - foot.length;
  const usual = rows - head.length - USUAL_FOOT;
  const body = tall(bodyOf(scene, { columns, rows: room, usual, glyphs }), room);
  const laid = [...head, ...body, ...foot];
  const cursor = { row: rows - foot.length, column: scene.typing ? typingColumn(scene.typing, columns) : 0 };
  return scene.typing ? { rows: laid, cursor } : { rows: laid };
}
