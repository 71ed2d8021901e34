// Plays a recorded trace through the same pipeline as a live line: its events, or what a capture makes of it.
import type { LineEvent } from '../core/bench/event.ts';
import {
  addReading,
  type Capture,
  defaultSettings,
  finishCapture,
  type Side,
  startCapture,
  type Verdict,
  verdictOf,
} from '../core/measure/rocking.ts';
import { forScreen } from '../core/safe-text.ts';
import type { LengthUnit } from '../core/units.ts';
import { type SettingKey, settingOptions } from '../kit/settings.ts';
import { loadTrace } from '../link/trace-link.ts';
import type { Trace } from '../wire/trace.ts';
import { createWatch } from '../wire/watch.ts';
import { wrongUse } from './asking.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { heededSettings } from './heeded.ts';
import { eventObject, eventText } from './listen/words.ts';

/** Settings of the bench screen that a watched trace heeds. */
export const WATCHED_WITH: readonly SettingKey[] = ['unit', 'bell', 'spoken', 'glyphs'];

/** Every event of a trace, times taken from the trace alone. */
function eventsOf(trace: Trace, bareUnit: LengthUnit, emit: (event: LineEvent) => void): void {
  const watch = createWatch({ bareUnit });
  for (const { at, line } of trace.rows) {
    watch.tick(at, emit);
    watch.push(line, at, emit);
  }
}

function captured(trace: Trace, side: Side, bareUnit: LengthUnit): { verdict: Verdict; capture: Capture } {
  let capture = startCapture(defaultSettings(side));
  eventsOf(trace, bareUnit, (event) => {
    if (event.kind === 'reading-received') capture = addReading(capture, event.reading);
  });
  const finished = finishCapture(capture);
  return { verdict: verdictOf(finished), capture: finished };
}

/** What `--take` prints: one object, lengths in mm, the uncertainty a standard one. */
function taken(verdict: Verdict, side: Side): Record<string, unknown> {
  if (verdict.state === 'agreed')
    return {
      kind: side,
      state: 'agreed',
      diameterMm: verdict.diameter,
      uncertaintyMm: verdict.standardUncertainty,
      tops: verdict.agreeing,
      spreadMm: verdict.spread,
      reason: null,
    };
  const known =
    verdict.state === 'doubtful' ? verdict : { tops: 0, spread: null, reason: { kind: 'no-readings' } };
  return {
    kind: side,
    state: 'doubtful',
    diameterMm: null,
    uncertaintyMm: null,
    tops: known.tops,
    spreadMm: known.spread,
    reason: known.reason.kind,
  };
}

function takenText({
  file,
  kind,
  state,
  diameterMm,
  uncertaintyMm,
  tops,
  reason,
}: Record<string, unknown>): string {
  const lead = file === undefined ? '' : `${forScreen(String(file))}: `;
  return state === 'agreed'
    ? `${lead}${kind} ${Number(diameterMm).toFixed(3)} mm, standard uncertainty ${Number(uncertaintyMm).toFixed(3)} mm, ${tops} tops agree`
    : `${lead}${kind} doubtful: ${reason}, ${tops} tops`;
}

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const files = (typed.args[0] ?? []) as readonly string[];
  if (typed.options.watch === true || typed.options.speed !== undefined)
    return (await import('./replay/watching.ts')).watchTraces(files, typed, output);
  const { values, complaints } = heededSettings(typed, ['unit']);
  if (complaints.length > 0) return wrongUse('replay', complaints, output);
  const how = {
    side: typed.options.take as Side | undefined,
    json: typed.options.json === true,
    many: files.length > 1,
    bareUnit: values.unit,
  };
  let worst: ExitCode = 0;
  for (const file of files) {
    const code = await replayOne(file, how, output);
    if (code > worst) worst = code;
  }
  return worst;
}

/** The trace in a file; undefined, and told, where it cannot be read. Rows left out are told too. */
export async function traceIn(file: string, output: Output): Promise<Trace | undefined> {
  const trace = await loadTrace(file).catch((error: NodeJS.ErrnoException) => error);
  if (trace instanceof Error) {
    output.message(
      `replay: ${forScreen(file)} cannot be read (${trace.code ?? trace.message}). Give a file that listen --record wrote.`,
    );
    return undefined;
  }
  for (const { row, why } of trace.faults)
    output.message(`replay: ${forScreen(file)} row ${row}: ${why}; left out, the rest is kept.`);
  return trace;
}

interface How {
  readonly side: Side | undefined;
  readonly json: boolean;
  readonly many: boolean;
  /** What a number without a unit means. */
  readonly bareUnit: LengthUnit;
}

async function replayOne(
  file: string,
  { side, json, many, bareUnit }: How,
  output: Output,
): Promise<ExitCode> {
  const trace = await traceIn(file, output);
  if (!trace) return 3;
  if (side === undefined) {
    eventsOf(trace, bareUnit, (event) =>
      output.data(json ? JSON.stringify(eventObject(event)) : eventText(event)),
    );
    return 0;
  }
  const { verdict } = captured(trace, side, bareUnit);
  const found = taken(verdict, side);
  const named = many ? { file, ...found } : found;
  output.data(json ? JSON.stringify(named) : takenText(named));
  return verdict.state === 'agreed' ? 0 : 1;
}

export const replayCommand: CommandSpec = {
  name: 'replay',
  summary: 'play a recorded trace through the same pipeline: as fast as it goes, or on the bench screen',
  arguments: [{ name: '<file...>', about: 'traces that `lidwright listen --record` wrote' }],
  options: [
    { flags: '--take <side>', about: 'capture a diameter from the trace', choices: ['bore', 'outside'] },
    { flags: '--json', about: 'one JSON object a line' },
    { flags: '--watch', about: 'on the bench screen, in its own time; keys work, and nothing is kept' },
    { flags: '--speed <times>', about: 'with --watch: so many times as fast, from 0.1 to 1000 (1)' },
    ...settingOptions(WATCHED_WITH),
  ],
  example: {
    line: 'replay shared/traces/bore.trace --take bore --json',
    shows: 'the diameter that the rocking in that trace agrees on',
  },
  run,
};
