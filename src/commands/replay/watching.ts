// `replay --watch`: a trace on the bench screen in its own time, for teaching and for bug reports; nothing of it is kept.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { isForm, openForm, setupFrom } from '../../core/bench/new-job-form.ts';
import type { Kit, Setup } from '../../core/bench/setup.ts';
import type { Parsed } from '../../core/quantity.ts';
import { forScreen } from '../../core/safe-text.ts';
import { readKit } from '../../kit/kit.ts';
import { kitTroubleText } from '../../kit/trouble.ts';
import { createTimedTrace } from '../../link/timed-trace.ts';
import { homeOf } from '../../records/home.ts';
import { openRecords, type Records } from '../../records/jobs.ts';
import { troubleText } from '../../records/trouble.ts';
import type { Trace } from '../../wire/trace.ts';
import { askOf, wrongUse } from '../asking.ts';
import { openBench } from '../bench/open.ts';
import { spokenFace } from '../bench/spoken-face.ts';
import { devicesOf, refuseNoTerminal } from '../bench/start.ts';
import { terminalFace } from '../bench/terminal-face.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { traceIn, WATCHED_WITH } from '../replay.ts';

const NOT_KEPT = 'a replay keeps nothing';

function parseTimes(text: string): Parsed<number> {
  const value = /^\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : 0;
  return value >= 0.1 && value <= 1000
    ? { ok: true, value }
    : { ok: false, kind: 'bad-quantity', found: text, accepted: 'a number from 0.1 to 1000, such as 4' };
}

/** What was asked beside the file, or complaints. */
function asked(
  files: readonly string[],
  typed: Typed,
): { readonly speed: number; readonly wrong: readonly string[] } {
  const ask = askOf(typed);
  const { watch, take, json } = typed.options;
  const speed = ask.optional('--speed', parseTimes) ?? 1;
  if (watch !== true) ask.complain('--speed: only with --watch; without it a trace is read at once.');
  if (take !== undefined || json === true)
    ask.complain('--watch: draws on the screen; leave out --take and --json, or --watch.');
  if (files.length > 1) ask.complain(`--watch: plays one trace, and ${files.length} were given.`);
  return { speed, wrong: ask.complaints };
}

/** The job that the trace is watched in: as the new-job form offers it, under the trace's name. */
function setupFor(file: string, kit: Kit): Setup | string {
  const form = setupFrom(openForm(kit, null, `replay of ${forScreen(basename(file), 40)}, nothing is kept`));
  return isForm(form) ? (form.error ?? 'the kit gives no job') : form;
}

export async function watchTraces(files: readonly string[], typed: Typed, output: Output): Promise<ExitCode> {
  const { speed, wrong } = asked(files, typed);
  if (wrong.length > 0) return wrongUse('replay', wrong, output);
  const [file = ''] = files;
  const trace = await traceIn(file, output);
  return trace ? watch(file, trace, speed, typed, output) : 3;
}

async function watch(
  file: string,
  trace: Trace,
  speed: number,
  typed: Typed,
  output: Output,
): Promise<ExitCode> {
  const flags = Object.fromEntries(WATCHED_WITH.map((key) => [key, typed.options[key]]));
  const found = readKit(homeOf(process.env), { flags, env: process.env });
  for (const trouble of found.troubles) output.message(`replay: ${kitTroubleText(trouble)}`);
  if (found.settings.troubles.length > 0) return 2;
  const { values } = found.settings;
  if (!process.stdout.isTTY && values.spoken === 'off') return refuseNoTerminal(output);
  const setup = setupFor(file, found.kit);
  if (typeof setup === 'string') {
    output.message(`replay: ${setup}. \`lidwright kit\` shows what there is.`);
    return 3;
  }
  const link = createTimedTrace(forScreen(basename(file), 40), trace, speed);
  const face = values.spoken === 'on' ? spokenFace : terminalFace;
  return inPassing(output, (records) =>
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
      kit: () => found.kit,
      rescue: () => undefined,
      keepFeed: () => ({ trouble: NOT_KEPT }),
      writeSheet: async () => ({ trouble: NOT_KEPT }),
      face: face(values),
    }),
  );
}

/** Records in a folder of their own, which is gone afterwards, however the program ends. */
async function inPassing(output: Output, run: (records: Records) => Promise<ExitCode>): Promise<ExitCode> {
  const folder = mkdtempSync(join(tmpdir(), 'lidwright-replay-'));
  const remove = (): void => rmSync(folder, { recursive: true, force: true });
  process.on('exit', remove);
  try {
    const records = openRecords(homeOf({ LIDWRIGHT_HOME: folder }));
    if (records.ok) return await run(records.value);
    output.message(`replay: ${forScreen(troubleText(records.trouble), 2000)}`);
    return 3;
  } finally {
    remove();
    process.off('exit', remove);
  }
}
