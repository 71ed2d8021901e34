// Plays a recorded trace through the same steps as a live line: its events, or the diameter that its rocking gives.
import type { LineEvent } from '../core/bench/event.ts';
import { addReading, finishCapture, startCapture } from '../core/measure/capture.ts';
import { defaultSettings, type Side } from '../core/measure/capture-settings.ts';
import { type Verdict, verdictOf } from '../core/measure/verdict.ts';
import { forScreen, pathForScreen } from '../core/safe-text.ts';
import type { LengthUnit } from '../core/units.ts';
import { type SettingKey, settingOptions } from '../kit/settings.ts';
import { createWatch } from '../wire/watch.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { commandSettings } from './command-settings.ts';
import { eventObject, eventText } from './line-report.ts';
import { wrongUse } from './options.ts';
import { readTraceRows } from './replay/trace.ts';

/** Settings of the bench screen that apply to a watched trace. */
const WATCH_SETTINGS: readonly SettingKey[] = ['unit', 'bell', 'spoken', 'glyphs'];

/** A capture holds its readings; this many are eleven hours of ten a second. */
const READINGS_AT_MOST = 400_000;

interface ReplayOptions {
  readonly side: Side | undefined;
  readonly json: boolean;
  /** True where several files were given: each answer then names its own. */
  readonly many: boolean;
  readonly bareUnit: LengthUnit;
}

/** Hands on every event of a trace, timed by the trace alone. False where the file can't be read. */
async function replayEvents(
  file: string,
  bareUnit: LengthUnit,
  output: Output,
  emit: (event: LineEvent) => void,
): Promise<boolean> {
  const watch = createWatch({ bareUnit });
  return readTraceRows(file, output, ({ at, line }) => watch.push(line, at, emit));
}

/** What `--keep` answers: one object, lengths in mm, the uncertainty a standard one. */
interface KeptDiameter {
  readonly file?: string;
  readonly kind: Side;
  readonly state: 'steady' | 'doubtful';
  readonly diameterMm: number | null;
  readonly uncertaintyMm: number | null;
  readonly peaks: number;
  readonly spreadMm: number | null;
  readonly reason: string | null;
}

function keptDiameter(verdict: Verdict, kind: Side): KeptDiameter {
  if (verdict.state === 'steady')
    return {
      kind,
      state: 'steady',
      diameterMm: verdict.diameter,
      uncertaintyMm: verdict.standardUncertainty,
      peaks: verdict.agreeing,
      spreadMm: verdict.spread,
      reason: null,
    };
  const doubtful =
    verdict.state === 'doubtful' ? verdict : { peaks: 0, spread: null, reason: { kind: 'no-readings' } };
  return {
    kind,
    state: 'doubtful',
    diameterMm: null,
    uncertaintyMm: null,
    peaks: doubtful.peaks,
    spreadMm: doubtful.spread,
    reason: doubtful.reason.kind,
  };
}

function keptText({ file, kind, diameterMm, uncertaintyMm, peaks, reason }: KeptDiameter): string {
  const lead = file === undefined ? '' : `${forScreen(file)}: `;
  return diameterMm === null || uncertaintyMm === null
    ? `${lead}${kind} doubtful: ${reason}, ${peaks} peaks`
    : `${lead}${kind} ${diameterMm.toFixed(3)} mm, standard uncertainty ${uncertaintyMm.toFixed(3)} mm, ${peaks} peaks agree`;
}

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const files = (typed.args[0] ?? []) as readonly string[];
  if (typed.options.watch === true || typed.options.speed !== undefined)
    return (await import('./replay/watching.ts')).watchTraces(files, typed, WATCH_SETTINGS, output);
  const { values, errors } = commandSettings(typed, ['unit']);
  if (errors.length > 0) return wrongUse('replay', errors, output);
  const options = {
    side: typed.options.keep as Side | undefined,
    json: typed.options.json === true,
    many: files.length > 1,
    bareUnit: values.unit,
  };
  let worst: ExitCode = 0;
  for (const file of files) {
    const code = await replayFile(file, options, output);
    if (code > worst) worst = code;
  }
  return worst;
}

async function replayFile(file: string, options: ReplayOptions, output: Output): Promise<ExitCode> {
  const { side, json, bareUnit } = options;
  if (side !== undefined) return keepFrom(file, side, options, output);
  const print = (event: LineEvent): void =>
    output.data(json ? JSON.stringify(eventObject(event)) : eventText(event));
  return (await replayEvents(file, bareUnit, output, print)) ? 0 : 3;
}

async function keepFrom(
  file: string,
  side: Side,
  { json, many, bareUnit }: ReplayOptions,
  output: Output,
): Promise<ExitCode> {
  let capture = startCapture(defaultSettings(side));
  let readings = 0;
  const isRead = await replayEvents(file, bareUnit, output, (event) => {
    if (event.kind !== 'reading-received') return;
    readings += 1;
    if (readings <= READINGS_AT_MOST) capture = addReading(capture, event.reading);
  });
  if (!isRead) return 3;
  if (readings > READINGS_AT_MOST) {
    output.message(
      `replay: --keep measures from up to ${READINGS_AT_MOST} readings, and ${pathForScreen(file)} has ${readings}. Cut the file around the rocking.`,
    );
    return 3;
  }
  const kept = keptDiameter(verdictOf(finishCapture(capture)), side);
  const named = many ? { file, ...kept } : kept;
  output.data(json ? JSON.stringify(named) : keptText(named));
  return kept.state === 'steady' ? 0 : 1;
}

export const replayCommand: CommandSpec = {
  name: 'replay',
  summary: 'play a recorded trace as if it came from a board, at once or on the bench screen',
  arguments: [{ name: '<file...>', about: 'traces that `lidwright listen --record` wrote' }],
  options: [
    { flags: '--keep <side>', about: 'measure a diameter from the trace', choices: ['bore', 'outside'] },
    { flags: '--json', about: 'print one JSON object a line' },
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
