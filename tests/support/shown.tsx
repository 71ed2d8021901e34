// What Ink draws of a bench, without a terminal: rows of runs by style, each as wide as it was drawn, and where the cursor stands.
import { renderToString } from 'ink';
import type { Bench } from '../../src/core/bench/state.ts';
import type { Size } from '../../src/screen/changed-cells.ts';
import type { Glyphs } from '../../src/screen/glyphs.ts';
import { Screen } from '../../src/screen/screen.tsx';
import { plainText, rowWidth, type StyledRow, type StyledRun } from '../../src/screen/text.ts';
import { STYLES } from '../../src/screen/theme.ts';

export interface Shown {
  readonly rows: readonly StyledRow[];
  readonly cursor?: { readonly row: number; readonly column: number };
}

/** Every style as a different colour, so that it can be read back. */
const theme = (style: (typeof STYLES)[number]): string => `\x1b[0;38;5;${STYLES.indexOf(style) + 16}m`;

export function shown(bench: Bench, { columns, rows }: Size, glyphs: Glyphs = 'all'): Shown {
  const frame = renderToString(<Screen bench={bench} look={{ columns, rows, glyphs, theme }} />, { columns });
  const drawn = frame.split('\n').map(runsOf);
  const row = drawn.findIndex((runs) => runs.some(({ style }) => style === 'cursor'));
  const before = drawn[row]?.slice(
    0,
    drawn[row]?.findIndex(({ style }) => style === 'cursor'),
  );
  const padded = drawn.map((runs) => [
    ...runs,
    { text: ' '.repeat(Math.max(0, columns - rowWidth(runs))), style: 'plain' as const },
  ]);
  return before ? { rows: padded, cursor: { row, column: rowWidth(before) } } : { rows: padded };
}

function runsOf(line: string): readonly StyledRun[] {
  let style: StyledRun['style'] = 'plain';
  return line.split('\x1b[').flatMap((piece, at) => {
    const [, codes = '', text = piece] = at === 0 ? [] : (/^([\d;]*)m(.*)$/s.exec(piece) ?? []);
    const index = /38;5;(\d+)/.exec(codes)?.[1];
    if (at > 0) style = index ? (STYLES[Number(index) - 16] ?? 'plain') : 'plain';
    return text === '' ? [] : [{ text, style }];
  });
}

/** The same as rows of text. */
export const shownText = (
  bench: Bench,
  size: Size = { columns: 80, rows: 24 },
  glyphs: Glyphs = 'all',
): string[] => shown(bench, size, glyphs).rows.map(plainText);
