// Draws whichever panel a scene has, and says how many rows it would like.
import type { Block } from '../picture.ts';
import type { Panel } from '../scene.ts';
import type { Glyphs } from '../theme.ts';
import { drawBar } from './bar/draw.ts';
import { drawForm } from './form/draw.ts';
import { drawJobs } from './jobs/draw.ts';
import { drawSection } from './section/draw.ts';
import { drawTable } from './table/draw.ts';
import { drawTrace } from './trace/draw.ts';
import { drawWords } from './words/draw.ts';

export function drawPanel(panel: Panel, columns: number, rows: number, glyphs: Glyphs): Block {
  switch (panel.kind) {
    case 'trace':
      return drawTrace(panel.trace, columns, rows, glyphs);
    case 'bar':
      return drawBar(panel.bar, columns, rows);
    case 'section':
      return drawSection(panel.section, columns, rows, glyphs);
    case 'table':
      return drawTable(panel.table, columns, rows);
    case 'words':
      return drawWords(panel.words, columns, rows);
    case 'form':
      return drawForm(panel.form, columns, rows);
    case 'jobs':
      return drawJobs(panel.jobs, columns, rows);
    default:
      return panel satisfies never;
  }
}

/** The rows that are kept for a panel beside the huge number, out of so many for both. */
export function panelHeight(panel: Panel, rows: number): number {
  const small = rows < 13;
  switch (panel.kind) {
    case 'bar':
      return small ? 1 : rows >= 20 ? 4 : 2;
    case 'trace':
      return small ? 1 : Math.max(4, Math.floor((rows - 5) * 0.4));
    case 'table':
      return small ? 3 : Math.max(4, Math.floor((rows - 5) * 0.4));
    case 'section':
    case 'words':
    case 'form':
    case 'jobs':
      return rows;
    default:
      return panel satisfies never;
  }
}
