// Whichever panel a scene has, and how many rows it would like.
import type { ReactNode } from 'react';
import type { Glyphs } from '../glyphs.ts';
import { Rows, useLook } from '../rows.tsx';
import type { Panel } from '../scene.ts';
import type { Block } from '../text.ts';
import { barRows } from './bar.ts';
import { formRows, jobRows, tableRows } from './lists.ts';
import { sectionRows } from './section.ts';
import { traceRows } from './trace.ts';
import { wordRows } from './words.ts';

/** A drawing is made for `rows` and its upper `shown` rows are shown: it keeps its scale when a message needs a row. */
interface PanelRoom {
  readonly columns: number;
  readonly rows: number;
  readonly shown: number;
}

type PanelProps = PanelRoom & { readonly panel: Panel; readonly gap: number };

export function PanelOf({ panel, gap, ...room }: PanelProps): ReactNode {
  const { glyphs } = useLook();
  return <Rows gap={gap} rows={panelRows(panel, room, glyphs).slice(0, Math.max(0, room.shown))} />;
}

function panelRows(panel: Panel, { columns, rows, shown }: PanelRoom, glyphs: Glyphs): Block {
  switch (panel.kind) {
    case 'trace':
      return traceRows(panel, columns, rows, glyphs);
    case 'bar':
      return barRows(panel, columns, rows);
    case 'section':
      return sectionRows(panel, columns, rows, shown, glyphs);
    case 'table':
      return tableRows(panel, columns, rows);
    case 'words':
      return wordRows(panel, columns, rows);
    case 'form':
      return formRows(panel, columns, rows);
    case 'jobs':
      return jobRows(panel, columns, rows);
    default:
      return panel satisfies never;
  }
}

/** The rows that are kept for a panel beside the huge number, out of those for both. */
export function panelHeight(panel: Panel, rows: number): number {
  const small = rows < 13;
  switch (panel.kind) {
    case 'bar':
      return small ? 1 : rows >= 20 ? 4 : 2;
    case 'trace':
      return small ? 1 : Math.max(4, Math.floor((rows - 5) * 0.4));
    case 'table':
      return small ? 3 : Math.max(4, Math.min(6, panel.rows.length), Math.floor((rows - 5) * 0.4));
    case 'section':
    case 'words':
    case 'form':
    case 'jobs':
      return rows;
    default:
      return panel satisfies never;
  }
}
