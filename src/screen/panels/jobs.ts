// The list of jobs, the newest first, scrolled so that the chosen one is in sight.
import { type Block, emptyRow, fitted, row, run, type StyledRow } from '../styled-text.ts';
import { shorten } from '../text.ts';

export interface JobRow {
  readonly name: string;
  readonly stage: string;
  readonly when: string;
  readonly closed: boolean;
}

export interface Jobs {
  readonly rows: readonly JobRow[];
  readonly at: number;
}

const STAGE_WIDTH = 16;
const WHEN_WIDTH = 14;

export function jobRows(jobs: Jobs, columns: number, rows: number): Block {
  const first = Math.max(0, Math.min(jobs.at - Math.floor(rows / 2), jobs.rows.length - rows));
  return jobs.rows.slice(first, first + rows).map((_, offset) => line(jobs, first + offset, columns));
}

function line(jobs: Jobs, at: number, columns: number): StyledRow {
  const job = jobs.rows[at];
  if (!job) return emptyRow;
  const here = at === jobs.at;
  const room = Math.max(8, columns - STAGE_WIDTH - WHEN_WIDTH - 8);
  const name = fitted(row(run(` ${shorten(job.name, room)}`, here ? 'chosen' : 'plain')), room + 2);
  return row(
    run(here ? ' ▸' : '  ', 'next'),
    ...name.map((part) => (here ? run(part.text, 'chosen') : part)),
    run(
      ` ${job.closed ? '● ' : '○ '}${(job.closed ? 'closed' : job.stage).padEnd(STAGE_WIDTH - 2)}`,
      job.closed ? 'quiet' : 'plain',
    ),
    run(job.when.padStart(WHEN_WIDTH), 'quiet'),
  );
}
