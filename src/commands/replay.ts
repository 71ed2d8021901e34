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
import { loadTrace } from '../link/trace-link.ts';
import { safeText } from '../wire/safe.ts';
import type { Trace } from '../wire/trace.ts';
import { createWatch } from '../wire/watch.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { eventObject, eventText } from './listen/words.ts';

/** Every event of a trace, times taken from the trace alone. */
function eventsOf(trace: Trace, emit: (event: LineEvent) => void): void {
  const watch = createWatch();
  for (const { at, line } of trace.rows) {
    watch.tick(at, emit);
    watch.push(line, at, emit);
  }
}

function captured(trace: Trace, side: Side): { verdict: Verdict; capture: Capture } {
  let capture = startCapture(defaultSettings(side));
  eventsOf(trace, (event) => {
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
  const lead = file === undefined ? '' : `${safeText(String(file))}: `;
  return state === 'agreed'
    ? `${lead}${kind} ${Number(diameterMm).toFixed(3)} mm, standard uncertainty ${Number(uncertaintyMm).toFixed(3)} mm, ${tops} tops agree`
    : `${lead}${kind} doubtful: ${reason}, ${tops} tops`;
}

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const files = (typed.args[0] ?? []) as readonly string[];
  const side = typed.options.take as Side | undefined;
  const json = typed.options.json === true;
  let worst: ExitCode = 0;
  for (const file of files) {
    const code = await replayOne(file, side, json, files.length > 1, output);
    if (code > worst) worst = code;
  }
  return worst;
}

async function replayOne(
  file: string,
  side: Side | undefined,
  json: boolean,
  many: boolean,
  output: Output,
): Promise<ExitCode> {
  const trace = await loadTrace(file).catch((error: NodeJS.ErrnoException) => error);
  if (trace instanceof Error) {
    output.message(
      `replay: ${safeText(file)} cannot be read (${trace.code ?? trace.message}). Give a file that listen --record wrote.`,
    );
    return 3;
  }
  for (const { row, why } of trace.faults)
    output.message(`replay: ${safeText(file)} row ${row}: ${why}; left out, the rest is kept.`);
  if (side === undefined) {
    eventsOf(trace, (event) => output.data(json ? JSON.stringify(eventObject(event)) : eventText(event)));
    return 0;
  }
  const { verdict } = captured(trace, side);
  const found = taken(verdict, side);
  const named = many ? { file, ...found } : found;
  output.data(json ? JSON.stringify(named) : takenText(named));
  return verdict.state === 'agreed' ? 0 : 1;
}

export const replayCommand: CommandSpec = {
  name: 'replay',
  summary: 'play a recorded trace through the same pipeline, as fast as it goes',
  arguments: [{ name: '<file...>', about: 'traces that `lidwright listen --record` wrote' }],
  options: [
    { flags: '--take <side>', about: 'capture a diameter from the trace', choices: ['bore', 'outside'] },
    { flags: '--json', about: 'one JSON object a line' },
  ],
  example: {
    line: 'replay shared/traces/bore.trace --take bore --json',
    shows: 'the diameter that the rocking in that trace agrees on',
  },
  run,
};
