// Decoded events of a live line, one a row, and on request its raw trace in a file.
import type { LineEvent, LinkEvent } from '../core/bench/event.ts';
import { forScreen } from '../core/safe-text.ts';
import type { LengthUnit } from '../core/units.ts';
import { millis } from '../core/units.ts';
import { settingOptions } from '../kit/settings.ts';
import { hostClock } from '../link/host-clock.ts';
import type { Link } from '../link/link.ts';
import { openRecorder, type Recorder } from '../link/recorder.ts';
import { createSerialLink } from '../link/serial-link.ts';
import { createVirtualLink } from '../link/virtual-link.ts';
import { createWatch } from '../wire/watch.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { heededSettings } from './heeded.ts';
import { chosenPort } from './listen/choice.ts';
import { eventObject, eventText } from './listen/words.ts';

/** How often silence is looked for. */
const TICK = 250;
const SECONDS_AT_MOST = 7 * 24 * 3600;

interface Asked {
  readonly port: string;
  readonly baud: number;
  readonly seconds: number | undefined;
  readonly unit: LengthUnit;
}

/** What was typed, or the complaint about it. */
function asked(typed: Typed): Asked | string {
  const { values, complaints } = heededSettings(typed, ['port', 'baud', 'unit']);
  if (complaints.length > 0) return complaints.join('\n');
  const { for: span } = typed.options;
  const seconds = typeof span === 'string' ? Number(span) : undefined;
  if (seconds !== undefined && !(seconds > 0 && seconds <= SECONDS_AT_MOST))
    return `--for: "${forScreen(String(span), 40)}" is not accepted; give seconds above 0, at most ${SECONDS_AT_MOST}.`;
  const { port, baud, unit } = values;
  return { port, baud, seconds, unit };
}

/** The link that was asked for, or why there is none. */
async function linkFor(typed: Typed, { port, baud }: Asked): Promise<Link | string> {
  if (typed.options.virtual === true) {
    const virtual = createVirtualLink({ seed: 1, now: hostClock });
    virtual.follow({ doing: 'rock-bore' });
    return virtual;
  }
  if (port !== '') return createSerialLink({ path: port, baud });
  const { findPorts } = await import('../link/ports.ts');
  const choice = chosenPort(await findPorts());
  return choice.kind === 'chosen' ? createSerialLink({ path: choice.path, baud }) : choice.why;
}

/** Starts the trace file, or says why it cannot be; a trace is never overwritten. */
function recorderFor(file: string): Recorder | string {
  try {
    return openRecorder(file, hostClock());
  } catch (cause) {
    const { code, message } = cause as NodeJS.ErrnoException;
    const name = forScreen(file);
    return code === 'EEXIST'
      ? `${name} is there already and is kept: give --record another name`
      : `${name} cannot be written (${forScreen(code ?? message)}): give --record a folder of yours`;
  }
}

/** Settles when the turner ends it, or when the time asked for is over. */
const enough = (seconds: number | undefined): Promise<void> =>
  new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, () => resolve());
    if (seconds !== undefined) setTimeout(resolve, seconds * 1000);
  });

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const want = asked(typed);
  if (typeof want === 'string') {
    output.message(`listen: ${want}`);
    return 2;
  }
  const link = await linkFor(typed, want);
  if (typeof link === 'string') {
    output.message(`listen: ${link}`);
    return 3;
  }
  const file = typed.options.record;
  const recorder = typeof file === 'string' ? recorderFor(file) : undefined;
  if (typeof recorder === 'string') {
    output.message(`listen: ${recorder}`);
    return 3;
  }
  return await listen(link, want, recorder, typed.options.json === true, output);
}

async function listen(
  link: Link,
  want: Asked,
  recorder: Recorder | undefined,
  json: boolean,
  output: Output,
): Promise<ExitCode> {
  const watch = createWatch({ bareUnit: want.unit });
  let everOpen = false;
  let recording = recorder;
  let code: ExitCode = 0;
  let said: string[] = [];
  let due = false;
  /** Rows and words of one piece of lines go out together, right after it: a flood is one write, not a thousand. */
  const soon = (): void => {
    if (due) return;
    due = true;
    setImmediate(flush);
  };
  const flush = (): void => {
    due = false;
    record((into) => into.flush());
    if (said.length > 0) output.data(said.join('\n'));
    said = [];
  };
  const show = (event: LineEvent | LinkEvent): void => {
    said.push(json ? JSON.stringify(eventObject(event)) : eventText(event));
    soon();
  };
  const record = (write: (into: Recorder) => void): void => {
    try {
      if (recording) write(recording);
    } catch (cause) {
      recording = undefined;
      code = 3;
      const why = forScreen((cause as NodeJS.ErrnoException).code ?? String(cause));
      output.message(
        `listen: the trace ends here (${why}); the rows before this are kept. Listening goes on.`,
      );
    }
  };
  link.open({
    line(text, heardAt) {
      record((into) => into.line(text, heardAt));
      soon();
      watch.push(text, heardAt, show);
    },
    unfinished(tail, heardAt) {
      record((into) => into.note(`unfinished: ${tail}`));
      watch.unfinished(tail, heardAt, show);
    },
    event(event) {
      everOpen ||= event.kind === 'link-opened';
      record((into) => into.note(eventText(event).trim()));
      show(event);
    },
  });
  const ticking = setInterval(() => watch.tick(millis(hostClock()), show), TICK);
  await enough(want.seconds);
  clearInterval(ticking);
  await link.close();
  flush();
  record((into) => into.close());
  return everOpen ? code : 3;
}

export const listenCommand: CommandSpec = {
  name: 'listen',
  summary: 'decoded events of the line, one a row; --record keeps the raw trace',
  options: [
    ...settingOptions(['port', 'baud', 'unit']),
    { flags: '--virtual', about: 'listen to a simulated bench instead of a port' },
    { flags: '--record <file>', about: 'keep every line as received in a new trace file, for replay' },
    { flags: '--for <seconds>', about: 'end after this long; otherwise Ctrl-C ends it' },
    { flags: '--json', about: 'one JSON object a line: kind first, then v, the version of its fields' },
  ],
  example: {
    line: 'listen --virtual --for 2 --json',
    shows: 'two seconds of a simulated bench: the board found, readings, the feed total',
  },
  run,
};
