// Plays a recorded trace through the same steps as a live line: its events, or the diameter that its rocking gives.
import type { LineEvent } from '../core/bench/event.ts';
import { addReading, finishCapture, startCapture } from '../core/measure/capture.ts';
import { defaultSettings, type Side } from '../core/measure/capture-settings.ts';
import { type Verdict, verdictOf } from '../core/measure/verdict.ts';
import { forScreen, pathForScreen } from '../core/safe-text.ts';
import type { LengthUnit } from '../core/units.ts';
import { decimalOf } from '../kit/quantities.ts';
import type { SettingKey } from '../kit/settings.ts';
import { readTraceFile } from '../link/trace-file.ts';
import type { TraceRow } from '../wire/trace.ts';
import { Watch } from '../wire/watch.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { openKit } from './kit/kit-files.ts';
import { eventObject, eventText } from './line-report.ts';
import { JSON_LINES, OptionReader, settingOptions } from './options.ts';
import { answer, endWith, wrongUse } from './output.ts';

/** Settings of the bench screen that apply to a watched trace. */
const WATCH_SETTINGS: readonly SettingKey[] = ['unit', 'bell', 'spoken', 'glyphs'];

/** A capture holds its readings; this many are eleven hours of ten a second. */
const READINGS_AT_MOST = 400_000;

/** Faults shown one by one; the rest is only counted. */
const FAULTS_SHOWN = 5;

/** Hands on each row of the file. False where the file can't be read, which has then been said; so have rows left out. */
async function readTraceRows(file: string, output: Output, row: (row: TraceRow) => void): Promise<boolean> {
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

/** Hands on every event of a trace, timed by the trace alone. False where the file can't be read. */
async function replayEvents(
  file: string,
  bareUnit: LengthUnit,
  output: Output,
  emit: (event: LineEvent) => void,
): Promise<boolean> {
  const watch = new Watch(bareUnit);
  return readTraceRows(file, output, ({ at, line }) => watch.push(line, at, emit));
}

/** What `--keep` answers: lengths in mm, the uncertainty a standard one. */
function keptDiameter(verdict: Verdict, kind: Side) {
  const { state } = verdict;
  const none = { diameterMm: null, uncertaintyMm: null, peaks: 0, spreadMm: null, reason: null };
  if (state === 'steady')
    return {
      ...{ kind, state, ...none },
      diameterMm: verdict.diameter,
      uncertaintyMm: verdict.standardUncertainty,
      peaks: verdict.agreeing,
      spreadMm: verdict.spread,
    };
  const doubtful = { kind, state: 'doubtful' as const, ...none };
  if (state !== 'doubtful') return { ...doubtful, reason: 'no-readings' };
  return { ...doubtful, peaks: verdict.peaks, spreadMm: verdict.spread, reason: verdict.reason.kind };
}

const keptText = ({ kind, diameterMm, uncertaintyMm, peaks, reason }: ReturnType<typeof keptDiameter>) =>
  diameterMm === null
    ? `${kind} doubtful: ${reason}, ${peaks} peaks`
    : `${kind} ${diameterMm.toFixed(3)} mm, standard uncertainty ${uncertaintyMm.toFixed(3)} mm, ${peaks} peaks agree`;

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const files = (typed.args[0] ?? []) as readonly string[];
  if (typed.options.watch === true || typed.options.speed !== undefined) return watch(files, typed, output);
  const options = new OptionReader(typed);
  const { values } = options.settings(['unit']);
  if (options.errors.length > 0) return wrongUse('replay', options.errors, output);
  const side = typed.options.keep as Side | undefined;
  const play = side === undefined ? printEvents : keepFrom(side, files.length > 1);
  let worst: ExitCode = 0;
  for (const file of files) {
    const code = await play(file, values.unit, typed, output);
    if (code > worst) worst = code;
  }
  return worst;
}

/** Rows that are held to be watched: more than two days of ten a second. Without --watch a trace may be of any length. */
const ROWS_AT_MOST = 2_000_000;

const playSpeed = decimalOf('times', 0.1, 1000, 'a number from 0.1 to 1000, such as 4');

async function watch(files: readonly string[], typed: Typed, output: Output): Promise<ExitCode> {
  const options = new OptionReader(typed);
  const { watch, keep, json } = typed.options;
  const speed = options.one('speed', playSpeed) ?? 1;
  if (watch !== true) options.addError('--speed only goes with --watch. Without it a trace is read at once.');
  if (keep !== undefined || json === true)
    options.addError('--watch draws on the screen. Leave out --keep and --json, or --watch.');
  if (files.length > 1) options.addError(`--watch plays one trace, and ${files.length} were given.`);
  if (options.errors.length > 0) return wrongUse('replay', options.errors, output);
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
  const { watchTrace } = await import('./replay/watching.ts');
  return watchTrace(file, rows, speed, openKit(typed, WATCH_SETTINGS).read, output);
}

type Play = (file: string, bareUnit: LengthUnit, typed: Typed, output: Output) => Promise<ExitCode>;

const printEvents: Play = async (file, bareUnit, typed, output) => {
  const print = (event: LineEvent): void =>
    void answer(typed, output, eventObject(event), [eventText(event)]);
  return (await replayEvents(file, bareUnit, output, print)) ? 0 : 3;
};

/** Measures a diameter from each file; where there are several, each answer names its own. */
const keepFrom =
  (side: Side, many: boolean): Play =>
  async (file, bareUnit, typed, output) => {
    let capture = startCapture(defaultSettings(side));
    let readings = 0;
    const isRead = await replayEvents(file, bareUnit, output, (event) => {
      if (event.kind !== 'reading-received') return;
      readings += 1;
      if (readings <= READINGS_AT_MOST) capture = addReading(capture, event.reading);
    });
    if (!isRead) return 3;
    if (readings > READINGS_AT_MOST)
      return endWith(
        output,
        3,
        `replay: --keep measures from up to ${READINGS_AT_MOST} readings, and ${pathForScreen(file)} has ${readings}. Cut the file around the rocking.`,
      );
    const kept = keptDiameter(verdictOf(finishCapture(capture)), side);
    const lead = many ? `${forScreen(file)}: ` : '';
    answer(typed, output, many ? { file, ...kept } : kept, [lead + keptText(kept)]);
    return kept.state === 'steady' ? 0 : 1;
  };

export const replayCommand: CommandSpec = {
  name: 'replay',
  summary: 'play a recorded trace as if it came from a board, at once or on the bench screen',
  arguments: [{ name: '<file...>', about: 'traces that `lidwright listen --record` wrote' }],
  options: [
    { flags: '--keep <side>', about: 'measure a diameter from the trace', choices: ['bore', 'outside'] },
    JSON_LINES,
    { flags: '--watch', about: 'play it on the bench screen in its own time; keys work, nothing is saved' },
    { flags: '--speed <times>', about: 'with --watch: how many times as fast, from 0.1 to 1000 (1)' },
    ...settingOptions(WATCH_SETTINGS),
  ],
  example: {
    line: 'replay shared/traces/bore.trace --keep bore --json',
    shows: 'the diameter that the peaks of the rocking in that trace agree on',
  },
  run,
};
