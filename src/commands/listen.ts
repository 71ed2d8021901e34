// Decoded events of a live line, one a row, and on request its raw trace in a file.
import type { LineEvent, LinkEvent } from '../core/bench/event.ts';
import { forScreen } from '../core/safe-text.ts';
import type { LengthUnit } from '../core/units.ts';
import { hostClock, type Link } from '../link/link.ts';
import { createSerialLink } from '../link/serial-link.ts';
import { openTraceRecorder, type TraceRecorder } from '../link/trace-file.ts';
import { createVirtualLink } from '../link/virtual-link.ts';
import { createWatch } from '../wire/watch.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { commandSettings } from './command-settings.ts';
import { eventObject, eventText } from './line-report.ts';
import { settingOptions } from './options.ts';
import { choosePort } from './port-choice.ts';

/** Rows held for a reader of stdout that is slower than the line. */
const ROWS_HELD = 20_000;
/** How often silence is looked for. */
const TICK = 250;
const SECONDS_AT_MOST = 7 * 24 * 3600;

interface ListenOptions {
  readonly port: string;
  readonly baud: number;
  /** How long to listen; undefined means until a signal. */
  readonly seconds: number | undefined;
  readonly unit: LengthUnit;
  readonly virtual: boolean;
  readonly json: boolean;
  readonly file: string | undefined;
}

/** What was typed, or what is wrong with it. */
function readListenOptions(typed: Typed): ListenOptions | string {
  const { values, errors } = commandSettings(typed, ['port', 'baud', 'unit']);
  if (errors.length > 0) return errors.join('\n');
  const { for: span, virtual, json, record } = typed.options;
  const seconds = typeof span === 'string' ? Number(span) : undefined;
  if (seconds !== undefined && !(seconds > 0 && seconds <= SECONDS_AT_MOST))
    return `--for: "${forScreen(String(span), 40)}" isn't accepted. Give seconds, above 0 and up to ${SECONDS_AT_MOST}.`;
  const { port, baud, unit } = values;
  const file = typeof record === 'string' ? record : undefined;
  return { port, baud, seconds, unit, virtual: virtual === true, json: json === true, file };
}

/** The link to listen to, or why there is nothing to listen to. */
async function linkFor({ port, baud, virtual }: ListenOptions): Promise<Link | string> {
  if (virtual) {
    const link = createVirtualLink({ seed: 1, now: hostClock });
    link.bench.follow({ doing: 'rock-bore' });
    return link;
  }
  if (port !== '') return createSerialLink({ path: port, baud });
  const { findPorts } = await import('../link/ports.ts');
  const choice = choosePort((await findPorts()).ports);
  return choice.kind === 'chosen' ? createSerialLink({ path: choice.path, baud }) : choice.why;
}

/** Starts the trace file, or says why it can't; a trace is never overwritten. */
function recorderFor(file: string): TraceRecorder | string {
  try {
    return openTraceRecorder(file, hostClock());
  } catch (cause) {
    const { code, message } = cause as NodeJS.ErrnoException;
    const name = forScreen(file);
    return code === 'EEXIST'
      ? `${name} already exists and was kept. Give --record another name.`
      : `Can't write ${name} (${forScreen(code ?? message)}). Give --record a folder you can write to.`;
  }
}

/** Settles when a signal comes, or when the time asked for is over. */
const listenedEnough = (seconds: number | undefined): Promise<void> =>
  new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, () => resolve());
    if (seconds !== undefined) setTimeout(resolve, seconds * 1000);
  });

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const options = readListenOptions(typed);
  if (typeof options === 'string') {
    output.message(`listen: ${options}`);
    return 2;
  }
  const link = await linkFor(options);
  if (typeof link === 'string') {
    output.message(`listen: ${link}`);
    return 3;
  }
  const recorder = options.file === undefined ? undefined : recorderFor(options.file);
  if (typeof recorder === 'string') {
    output.message(`listen: ${recorder}`);
    return 3;
  }
  return await new Listening(options, recorder, output).listen(link);
}

/** One run of `listen`: what is gathered while lines come in together goes out at once, so that a flood is one write, not a thousand. */
class Listening {
  readonly #options: ListenOptions;
  readonly #output: Output;
  #recorder: TraceRecorder | undefined;
  #everOpen = false;
  #traceEnded = false;
  #rows: string[] = [];
  #flushDue = false;
  #printing = false;
  #unprinted = 0;

  constructor(options: ListenOptions, recorder: TraceRecorder | undefined, output: Output) {
    this.#options = options;
    this.#recorder = recorder;
    this.#output = output;
  }

  async listen(link: Link): Promise<ExitCode> {
    const watch = createWatch({ bareUnit: this.#options.unit });
    const show = (event: LineEvent): void => this.#show(event);
    link.open({
      line: (text, heardAt) => {
        this.#record((trace) => trace.line(text, heardAt));
        this.#flushSoon();
        watch.push(text, heardAt, show);
      },
      unfinished: (tail, heardAt) => {
        this.#record((trace) => trace.note(`unfinished: ${tail}`));
        watch.unfinished(tail, heardAt, show);
      },
      event: (event) => {
        this.#everOpen ||= event.kind === 'link-opened';
        this.#record((trace) => trace.note(eventText(event).trim()));
        this.#show(event);
      },
    });
    const ticking = setInterval(() => watch.tick(hostClock(), show), TICK);
    await listenedEnough(this.#options.seconds);
    clearInterval(ticking);
    await link.close();
    this.#printHeld();
    this.#record((trace) => trace.close());
    return this.#everOpen && !this.#traceEnded ? 0 : 3;
  }

  #show(event: LineEvent | LinkEvent): void {
    if (this.#rows.length < ROWS_HELD)
      this.#rows.push(this.#options.json ? JSON.stringify(eventObject(event)) : eventText(event));
    else this.#unprinted += 1;
    this.#flushSoon();
  }

  #flushSoon(): void {
    if (this.#flushDue) return;
    this.#flushDue = true;
    setImmediate(() => this.#flush());
  }

  #flush(): void {
    this.#flushDue = false;
    this.#record((trace) => trace.flush());
    if (!this.#printing) void this.#print();
  }

  /** Prints what is held, and waits until it was taken: a reader that stops reading holds up neither the trace nor the memory. */
  async #print(): Promise<void> {
    this.#printing = true;
    while (this.#rows.length > 0) {
      this.#printHeld();
      await this.#output.drained();
    }
    this.#printing = false;
  }

  #printHeld(): void {
    if (this.#rows.length > 0) this.#output.data(this.#rows.splice(0).join('\n'));
    if (this.#unprinted > 0)
      this.#output.message(
        `listen: ${this.#unprinted} rows were not printed, since they were not read fast enough. A trace (--record) has them all.`,
      );
    this.#unprinted = 0;
  }

  /** A trace that can't be written on ends there; listening goes on. */
  #record(write: (trace: TraceRecorder) => void): void {
    try {
      if (this.#recorder) write(this.#recorder);
    } catch (cause) {
      this.#recorder = undefined;
      this.#traceEnded = true;
      const why = forScreen((cause as NodeJS.ErrnoException).code ?? String(cause));
      this.#output.message(
        `listen: the trace ends here (${why}); the rows written before are safe. Still listening.`,
      );
    }
  }
}

export const listenCommand: CommandSpec = {
  name: 'listen',
  summary: 'print what the board says, one event a line; --record saves the raw trace',
  options: [
    ...settingOptions(['port', 'baud', 'unit']),
    { flags: '--virtual', about: 'listen to a simulated bench instead of a port' },
    { flags: '--record <file>', about: 'save every line as received in a new trace file, for replay' },
    { flags: '--for <seconds>', about: 'stop after this long (default: until Ctrl-C)' },
    { flags: '--json', about: 'print one JSON object a line: kind first, then v, the version of its fields' },
  ],
  example: {
    line: 'listen --virtual --for 2 --json',
    shows: 'two seconds of a simulated bench: the board, its readings, the feed total',
  },
  run,
};
