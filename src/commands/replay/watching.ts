// `replay --watch`: a trace on the bench screen in its own time, for teaching and for bug reports; nothing is saved.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { isForm, openForm, setupFrom } from '../../core/bench/new-job-form.ts';
import type { Kit, Setup } from '../../core/bench/setup.ts';
import { forScreen } from '../../core/safe-text.ts';
import type { KitRead } from '../../kit/kit.ts';
import { playTrace } from '../../link/trace-file.ts';
import { homeOf } from '../../records/home.ts';
import { openRecords, type Records } from '../../records/jobs.ts';
import type { TraceRow } from '../../wire/trace.ts';
import { ON_A_LINE, openBench } from '../bench/open.ts';
import { devicesOf, displayFor, refusedStart } from '../bench/start.ts';
import type { ExitCode, Output } from '../command.ts';
import { reportTrouble } from '../open-records.ts';
import { endWith } from '../output.ts';

const NOT_SAVED = 'a replay saves nothing';

/** The job that the trace is watched in: as the new-job form offers it, under the trace's name. */
function setupFor(file: string, kit: Kit): Setup | string {
  const form = setupFrom(openForm(kit, null, `replay of ${forScreen(basename(file), 40)}, nothing is saved`));
  return isForm(form) ? (form.error ?? 'the kit gives no job') : form;
}

/** Plays these rows on the bench screen, this many times as fast. */
export async function watchTrace(
  file: string,
  rows: readonly TraceRow[],
  speed: number,
  found: KitRead,
  output: Output,
): Promise<ExitCode> {
  const refused = refusedStart(found, output, 'replay');
  if (refused !== undefined) return refused;
  const { values } = found.settings;
  const setup = setupFor(file, found.kit);
  if (typeof setup === 'string')
    return endWith(output, 3, `replay: ${setup}. Run \`lidwright kit\` to see your kit.`);
  const link = playTrace(forScreen(basename(file), 40), rows, speed);
  return withPassingRecords(output, (records) =>
    openBench({
      records,
      unit: values.unit,
      devices: devicesOf(found),
      now: link.now,
      begin: setup,
      findLink: async () => link,
      seekLink: async () => null,
      ...ON_A_LINE,
      kit: () => found.kit,
      rescue: () => undefined,
      keepFeed: () => ({ trouble: NOT_SAVED }),
      writeSheet: async () => ({ trouble: NOT_SAVED }),
      display: displayFor(values),
    }),
  );
}

/** Runs with records in a temporary folder, which is removed however the program ends. */
async function withPassingRecords(
  output: Output,
  run: (records: Records) => Promise<ExitCode>,
): Promise<ExitCode> {
  const folder = mkdtempSync(join(tmpdir(), 'lidwright-replay-'));
  const remove = (): void => rmSync(folder, { recursive: true, force: true });
  process.on('exit', remove);
  try {
    const records = openRecords(homeOf({ LIDWRIGHT_HOME: folder }));
    if (records.ok) return await run(records.value);
    return reportTrouble(records.trouble, output, 'replay');
  } finally {
    remove();
    process.off('exit', remove);
  }
}
