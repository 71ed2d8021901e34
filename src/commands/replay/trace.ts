// A trace that a replay reads: its rows as they come, and a word about those that can't be read.
import { pathForScreen } from '../../core/safe-text.ts';
import { readTraceFile } from '../../link/trace-file.ts';
import type { TraceRow } from '../../wire/trace.ts';
import type { Output } from '../command.ts';

/** Faults shown one by one; the rest is only counted. */
const FAULTS_SHOWN = 5;

/** Hands on each row of the file. False where the file can't be read, which has then been said; so have rows left out. */
export async function readTraceRows(
  file: string,
  output: Output,
  row: (row: TraceRow) => void,
): Promise<boolean> {
  const name = pathForScreen(file);
  let faults = 0;
  const trouble = await readTraceFile(file, {
    row,
    ready: output.drained,
    fault({ row: number, why }) {
      faults += 1;
      if (faults <= FAULTS_SHOWN) output.message(`replay: ${name} row ${number}: ${why}. It is left out.`);
    },
  }).catch((cause: NodeJS.ErrnoException) => cause);
  if (faults > FAULTS_SHOWN)
    output.message(`replay: ${name}: ${faults} rows in all could not be read. The rest was used.`);
  if (trouble === undefined) return true;
  output.message(
    `replay: can't read ${name} (${trouble.code ?? trouble.message}). Give a file that listen --record wrote.`,
  );
  return false;
}
