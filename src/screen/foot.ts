// The foot of a screen: what was done or typed, what to do next, what to mind, and the keys.
import { type Block, emptyRow, fitted, type Row, row, run, type Style } from './picture.ts';
import { type KeyHint, MARKS, type Scene, type Typing } from './scene.ts';
import { atMost, textWidth, wrapped } from './text.ts';

export interface Notice {
  readonly said: string;
  readonly wrong: boolean;
}

const MOST_ROWS = 3;

/** A sentence under its mark, on more rows where it does not fit on one. */
const sentence = (said: string, columns: number, mark: string, style: Style): Block =>
  atMost(wrapped(said, columns - 4), MOST_ROWS, columns - 4).map((line, at) =>
    row(run(at === 0 ? ` ${mark} ` : '   ', style), run(line, style)),
  );

/** The foot's rows from top to bottom; `roomy` leaves a blank row where there is no notice. */
export function footOf(scene: Scene, notice: Notice | null, columns: number, roomy: boolean): Block {
  return [
    ...firstRow(scene, notice, columns, roomy),
    ...sentence(scene.next, columns, MARKS.next, 'next'),
    ...(scene.caution ? sentence(scene.caution, columns, MARKS.alert, 'caution') : []),
    ...(scene.keys.length > 0 ? [keysRow(scene.keys, columns)] : []),
  ];
}

function firstRow({ typing }: Scene, notice: Notice | null, columns: number, roomy: boolean): Block {
  if (typing) return [typingRow(typing, columns)];
  if (notice)
    return sentence(
      notice.said,
      columns,
      notice.wrong ? MARKS.cross : MARKS.full,
      notice.wrong ? 'bad' : 'good',
    );
  return roomy ? [emptyRow] : [];
}

const typingRow = ({ asks, text }: Typing, columns: number): Row =>
  row(run(` ${asks}: `, 'title'), run(tail(text, columns - textWidth(asks) - 5), 'strong'));

/** The end of what is typed: where the cursor is. */
function tail(text: string, width: number): string {
  const characters = [...text];
  while (textWidth(characters.join('')) > width) characters.shift();
  return characters.join('');
}

/** The column behind what is typed. */
export const typingColumn = ({ asks, text }: Typing, columns: number): number =>
  3 + textWidth(asks) + textWidth(tail(text, columns - textWidth(asks) - 5));

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
  return fitted(parts.flat(), columns);
}
