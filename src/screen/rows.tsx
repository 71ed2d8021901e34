// Rows of styled runs as one Ink element. Ink measures every text it has not seen and remembers it for ever, and its colours know
// neither NO_COLOR nor sixteen colours. So the text that Ink measures is blank, and a Transform puts the painted rows in its place.
import { Box, Text, Transform } from 'ink';
import { createContext, memo, type ReactNode, useContext } from 'react';
import { type Glyphs, inAscii } from './glyphs.ts';
import { type Block, blockWidth, clipped, type StyledRow } from './text.ts';
import type { Theme } from './theme.ts';

/** What every panel draws for. */
export interface Look {
  readonly columns: number;
  readonly rows: number;
  readonly glyphs: Glyphs;
  readonly theme: Theme;
}

export const LookContext = createContext<Look>({ columns: 80, rows: 24, glyphs: 'all', theme: () => '' });
export const useLook = (): Look => useContext(LookContext);

interface RowsProps {
  readonly rows: Block;
  /** Rows left blank above. */
  readonly gap?: number;
}

export const Rows = memo(function Rows({ rows, gap = 0 }: RowsProps): ReactNode {
  const { columns, glyphs, theme } = useLook();
  if (rows.length === 0) return null;
  const shown = glyphs === 'ascii' ? rows.map((row) => clipped(row.map(plainRun), columns)) : rows;
  const painted = shown.map((row) => paint(row, theme));
  return (
    <Box width={Math.max(1, blockWidth(shown))} height={rows.length} flexShrink={0} marginTop={gap}>
      <Transform transform={(_, at) => painted[at] ?? ''}>
        <Text>{BLANKS.slice(0, 2 * rows.length - 1)}</Text>
      </Transform>
    </Box>
  );
}, sayTheSame);

/** A blank a row; few enough texts that Ink may remember them. */
const BLANKS = ' \n'.repeat(500);

const plainRun = ({ text, style }: StyledRow[number]): StyledRow[number] => ({ text: inAscii(text), style });

const paint = (row: StyledRow, theme: Theme): string =>
  row.map(({ text, style }) => (text === '' ? '' : theme(style) + text)).join('');

/** What says the same is not painted again. */
function sayTheSame(a: RowsProps, b: RowsProps): boolean {
  const isSame = (row: StyledRow, at: number): boolean => sameRow(row, b.rows[at]);
  return a.gap === b.gap && a.rows.length === b.rows.length && a.rows.every(isSame);
}

const sameRow = (a: StyledRow, b: StyledRow | undefined): boolean =>
  a === b ||
  (b !== undefined &&
    a.length === b.length &&
    a.every(({ text, style }, at) => text === b[at]?.text && style === b[at]?.style));
