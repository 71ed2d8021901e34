// Decoded events of a live line, one a row, and on request its raw trace in a file.
import type { LineEvent, LinkEvent } from '../core/bench/event.ts';
import { forScreen } from '../core/safe-text.ts';
import type { LengthUnit } from '../core/units.ts';
import { decimalOf } from '../kit/quantities.ts';
import type { Settings } from '../kit/settings.ts';
import { hostClock, type Link } from '../link/link.ts';
import { SerialLink } from '../link/serial-link.ts';
import { openTraceRecorder, type TraceRecorder } from '../link/trace-file.ts';
import { createVirtualLink } from '../link/virtual-link.ts';
import { homeOf } from '../records/home.ts';
import { Watch } from '../wire/watch.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { eventObject, eventText } from './line-report.ts';
import { OptionReader, settingOptions } from './options.ts';
import { endWith } from './output.ts';
import { choosePort, lastPort } from './ports.ts';

/** Rows held for a reader of stdout that is slower than the line. */
const ROWS_HELD = 20_000;
/** How often silence is looked for. */
const TICK = 250;
const MOST_SECONDS = 7 * 24 * 3600;
const span = decimalOf('seconds', 0.001, MOST_SECONDS, `seconds, above 0 and up to ${MOST_SECONDS}`);

/** The link to listen to, or why there is nothing to listen to. */
async function linkFor({ options: { virtual } }: Typed, { port, baud }: Settings): Promise<Link | string> {
  if (virtual === true) {
    const link = createVirtualLink({ seed: 1 }, hostClock);
    link.bench.follow({ doing: 'rock-bore' });
    return link;
  }
  if (port !== '') return new SerialLink({ path: port, baud });
  const { findPorts } = await import('../link/ports.ts');
  const choice = choosePort((await findPorts()).ports, lastPort(homeOf(process.env)));
  return choice.kind === 'chosen' ? new SerialLink({ path: choice.path, baud }) : choice.why;
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
  const fail = (code: ExitCode, ...why: readonly string[]) =>
    endWith(output, code, ...why.map((line) => `listen: ${line}`));
  const options = new OptionReader(typed);
  const { values } = options.settings(['port', 'baud', 'unit']);
  const seconds = options.one('for', span);
  if (options.errors.length > 0) return fail(2, ...options.errors);
  const link = await linkFor(typed, values);
  if (typeof link === 'string') return fail(3, link);
  const { record, json } = typed.options;
  const recorder = typeof record === 'string' ? recorderFor(record) : undefined;
  if (typeof recorder === 'string') return fail(3, recorder);
  const rowOf = (event: LineEvent | LinkEvent): string =>
    json === true ? JSON.stringify(eventObject(event)) : eventText(event);
  return await new Listening(rowOf, recorder, output).listen(link, values.unit, seconds);
}

/** One run of `listen`: rows that come in together go out in one write, so that a flood isn't a thousand writes. */
class Listening {
  readonly #rowOf: (event: LineEvent | LinkEvent) => string;
  readonly #output: Output;
  #recorder: TraceRecorder | undefined;
  #everOpen = false;
  #traceEnded = false;
  #rows: string[] = [];
  #flushDue = false;
  #printing = false;
  #unprinted = 0;

  constructor(
    rowOf: (event: LineEvent | LinkEvent) => string,
    recorder: TraceRecorder | undefined,
    output: Output,
  ) {
    this.#rowOf = rowOf;
    this.#recorder = recorder;
    this.#output = output;
  }

  async listen(link: Link, bareUnit: LengthUnit, seconds: number | undefined): Promise<ExitCode> {
    const watch = new Watch(bareUnit);
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
    await listenedEnough(seconds);
    clearInterval(ticking);
    await link.close();
    this.#printHeld();
    this.#record((trace) => trace.close());
    return this.#everOpen && !this.#traceEnded ? 0 : 3;
  }

  #show(event: LineEvent | LinkEvent): void {
    if (this.#rows.length < ROWS_HELD) this.#rows.push(this.#rowOf(event));
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
        `listen: the trace ends here (${why}). The rows written before are safe. Still listening.`,
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
