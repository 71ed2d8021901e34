// Whichever panel a scene has, and how many rows it would like.
import type { ReactNode } from 'react';
import type { Panel } from '../scene.ts';
import { BarPanel } from './bar.tsx';
import { FormPanel } from './form.tsx';
import { JobsPanel } from './jobs.tsx';
import type { PanelRoom } from './room.ts';
import { SectionPanel } from './section.tsx';
import { TablePanel } from './table.tsx';
import { TracePanel } from './trace.tsx';
import { WordsPanel } from './words.tsx';

export function PanelOf({ panel, ...room }: PanelRoom & { readonly panel: Panel }): ReactNode {
  switch (panel.kind) {
    case 'trace':
      return <TracePanel trace={panel.trace} {...room} />;
    case 'bar':
      return <BarPanel bar={panel.bar} {...room} />;
    case 'section':
      return <SectionPanel section={panel.section} {...room} />;
    case 'table':
      return <TablePanel table={panel.table} {...room} />;
    case 'words':
      return <WordsPanel words={panel.words} {...room} />;
    case 'form':
      return <FormPanel form={panel.form} {...room} />;
    case 'jobs':
      return <JobsPanel jobs={panel.jobs} {...room} />;
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
      return small ? 3 : Math.max(4, Math.min(6, panel.table.rows.length), Math.floor((rows - 5) * 0.4));
    case 'section':
    case 'words':
    case 'form':
    case 'jobs':
      return rows;
    default:
      return panel satisfies never;
  }
}
