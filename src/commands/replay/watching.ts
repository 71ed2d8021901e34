// `replay --watch`: a trace on the bench screen in its own time, for teaching and for bug reports; nothing is saved.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { isForm, openForm, setupFrom } from '../../core/bench/new-job-form.ts';
import type { Kit, Setup } from '../../core/bench/setup.ts';
import { forScreen } from '../../core/safe-text.ts';
import type { KitRead } from '../../kit/kit.ts';
import { decimalOf } from '../../kit/quantities.ts';
import type { SettingKey } from '../../kit/settings.ts';
import { playTrace } from '../../link/trace-file.ts';
import { homeOf } from '../../records/home.ts';
import { openRecords, type Records } from '../../records/jobs.ts';
import type { TraceRow } from '../../wire/trace.ts';
import { openBench } from '../bench/open.ts';
import { devicesOf, displayFor, refusedStart } from '../bench/start.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { openKit } from '../kit/kit-files.ts';
import { reportTrouble } from '../open-records.ts';
import { OptionReader } from '../options.ts';
import { endWith, wrongUse } from '../output.ts';
import { readTraceRows } from './trace.ts';

const NOT_SAVED = 'a replay saves nothing';
/** Rows that are held to be watched: more than two days of ten a second. Without --watch a trace may be of any length. */
const ROWS_AT_MOST = 2_000_000;

const playSpeed = decimalOf('times', 0.1, 1000, 'a number from 0.1 to 1000, such as 4');

/** How fast to play, and what is wrong with the options. */
function readWatchOptions(files: readonly string[], typed: Typed) {
  const options = new OptionReader(typed);
  const { watch, keep, json } = typed.options;
  const speed = options.one('speed', playSpeed) ?? 1;
  if (watch !== true) options.addError('--speed only goes with --watch. Without it a trace is read at once.');
  if (keep !== undefined || json === true)
    options.addError('--watch draws on the screen. Leave out --keep and --json, or --watch.');
  if (files.length > 1) options.addError(`--watch plays one trace, and ${files.length} were given.`);
  return { speed, wrong: options.errors };
}

/** The job that the trace is watched in: as the new-job form offers it, under the trace's name. */
function setupFor(file: string, kit: Kit): Setup | string {
  const form = setupFrom(openForm(kit, null, `replay of ${forScreen(basename(file), 40)}, nothing is saved`));
  return isForm(form) ? (form.error ?? 'the kit gives no job') : form;
}

export async function watchTraces(
  files: readonly string[],
  typed: Typed,
  settings: readonly SettingKey[],
  output: Output,
): Promise<ExitCode> {
  const { speed, wrong } = readWatchOptions(files, typed);
  if (wrong.length > 0) return wrongUse('replay', wrong, output);
  const [file = ''] = files;
  const rows: TraceRow[] = [];
  let count = 0;
  const isRead = await readTraceRows(file, output, (row) => {
    count += 1;
    if (count <= ROWS_AT_MOST) rows.push(row);
  });
  if (!isRead) return 3;
  if (count > ROWS_AT_MOST)
    return endWith(
      output,
      3,
      `replay: --watch plays up to ${ROWS_AT_MOST} rows, and this trace has ${count}. Leave out --watch, or cut the file.`,
    );
  return watch(file, rows, speed, openKit(typed, settings).read, output);
}

async function watch(
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
      virtual: false,
      seed: 1,
      mishaps: [],
      practice: false,
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
