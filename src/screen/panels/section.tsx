// The section of the threads being cut, with a line on what its parts are.
import type { ReactNode } from 'react';
import { Rows, useLook } from '../rows.tsx';
import { type Block, row, run, type Style } from '../styled-text.ts';
import { wrapped } from '../text.ts';
import { type SectionModel, sectionLines } from '../thread-drawing.ts';
import type { PanelRoom } from './room.ts';

export function SectionPanel({
  section,
  columns,
  rows,
  shown,
  gap,
}: PanelRoom & { readonly section: SectionModel }): ReactNode {
  const { glyphs } = useLook();
  if (rows < 3 || shown < 2) return null;
  const notes = wrapped(section.notes.join(', '), columns - 1);
  const lines = sectionLines(section, columns - 2, rows - notes.length, glyphs).slice(
    0,
    shown - notes.length,
  );
  const drawn = (text: readonly string[], style: Style): Block => text.map((line) => row(run(line, style)));
  return <Rows gap={gap} rows={[...drawn(lines, 'trace'), ...drawn(notes, 'quiet')]} />;
}
