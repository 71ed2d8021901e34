// Draws the list of jobs, scrolled so that the one stood on is in sight.
import { type Block, emptyRow, fitted, type Row, row, run } from '../../picture.ts';
import { shorten } from '../../text.ts';
import type { Jobs } from './jobs.ts';

const STAGE_WIDTH = 16;
const WHEN_WIDTH = 14;

export function drawJobs(jobs: Jobs, columns: number, rows: number): Block {
  const first = Math.max(0, Math.min(jobs.at - Math.floor(rows / 2), jobs.rows.length - rows));
  return jobs.rows.slice(first, first + rows).map((_, offset) => line(jobs, first + offset, columns));
}

function line(jobs: Jobs, at: number, columns: number): Row {
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
