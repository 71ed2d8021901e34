// A link over a serial port that keeps itself up: opens, listens, notices when the port goes, and comes back.
import { forScreen } from '../core/safe-text.ts';
import { type Millis, millis } from '../core/units.ts';
import { looksChecked } from '../wire/decode.ts';
import { createLineCutter, type LineCutter } from './lines.ts';
import { hostClock, type Link, type LinkListener, QUESTION } from './link.ts';
import { deviceIdentity, findPorts } from './ports.ts';
import { type BoardFinder, createBoardFinder } from './probe.ts';
import {
  AT_REST,
  type PortOrder,
  type ReconnectEffect,
  type ReconnectInput,
  reconnect,
} from './reconnect.ts';
import { type OpenPort, openPort } from './serial.ts';

const DEFAULT_BAUD = 115_200;
/** A line that begins sooner than this after the opening may have begun before it: its beginning may be missing. */
const BEGUN_BEFORE = 300;
/** How often the reconnect machine hears that time has passed. */
const BEAT = 250;

export interface SerialSettings {
  readonly path: string;
  readonly baud?: number;
  readonly now?: () => Millis;
  /** Every port there is now, for a board that comes back at another one. */
  readonly ports?: () => Promise<readonly string[]>;
  /** Called at each step of the reconnect machine, so that a test can count them. */
  readonly onStep?: (input: ReconnectInput['kind'], effects: readonly ReconnectEffect[]) => void;
}

const allPorts = async (): Promise<readonly string[]> => (await findPorts()).ports.map(({ path }) => path);

/** What is open now: one of these for each time a port was opened. */
interface Connection {
  readonly port: OpenPort;
  readonly path: string;
  readonly lines: LineCutter;
  readonly openedAt: Millis;
  /** Which device the path led to; undefined until that is known. */
  device: string | undefined;
  /** Whether the next line may have begun before the opening; undefined until its first byte. */
  mayBeCut: boolean | undefined;
}

/** A link to the board at `path`. It never gives up by itself; only `close` ends it. */
export class SerialLink implements Link {
  readonly name: string;
  readonly #baud: number;
  readonly #now: () => Millis;
  readonly #onStep: SerialSettings['onStep'];
  readonly #finder: BoardFinder;
  #listener: LinkListener | undefined;
  #beat: NodeJS.Timeout | undefined;
  #machine = AT_REST;
  /** Counts openings and closings: what an earlier one still brings is not heard any more. */
  #attempt = 0;
  #connection: Connection | undefined;
  /** Where the port was opened last, or is being opened. */
  #path: string;
  readonly #orders: Readonly<Record<PortOrder, () => void>> = {
    'open-port': () => {
      this.#opening = this.#openPort(++this.#attempt);
    },
    'close-port': () => this.#closePort(),
    'ask-board': () => this.ask(),
    'look-for-port': () => void this.#lookForDevice(),
  };
  #heardAt = millis(0);
  #opening: Promise<void> = Promise.resolve();
  #closing: Promise<void> = Promise.resolve();

  constructor({ path, baud = DEFAULT_BAUD, now = hostClock, ports = allPorts, onStep }: SerialSettings) {
    this.name = path;
    this.#path = path;
    this.#baud = baud;
    this.#now = now;
    this.#onStep = onStep;
    this.#finder = createBoardFinder(path, ports, baud, now);
  }

  open(listener: LinkListener): void {
    this.#listener = listener;
    this.#beat = setInterval(() => this.#give({ kind: 'time-passed' }), BEAT);
    this.#give({ kind: 'started' });
  }

  ask(): void {
    this.#connection?.port.send(QUESTION);
  }

  async close(): Promise<void> {
    clearInterval(this.#beat);
    this.#give({ kind: 'stopped' });
    this.#listener = undefined;
    await this.#opening;
    await this.#closing;
  }

  #give(input: ReconnectInput): void {
    const { state, effects } = reconnect(this.#machine, input, this.#now());
    this.#machine = state;
    this.#onStep?.(input.kind, effects);
    for (const effect of effects) {
      if (typeof effect === 'string') this.#orders[effect]();
      else this.#listener?.event({ ...effect, port: forScreen(this.#path), heardAt: this.#now() });
    }
  }

  /** Opens a port; an attempt that another one has replaced meanwhile closes what it opened and says nothing. */
  async #openPort(attempt: number): Promise<void> {
    const isCurrent = (): boolean => attempt === this.#attempt;
    await this.#closing;
    const path = await this.#finder.pathToOpen();
    const port = await openPort(path, this.#baud, {
      bytes: (bytes) => isCurrent() && this.#onBytes(bytes),
      gone: (why) => isCurrent() && this.#give({ kind: 'port-lost', why: `unplugged (${forScreen(why)})` }),
    });
    if (!isCurrent()) return typeof port === 'string' ? undefined : port.close();
    if (typeof port === 'string') return this.#give({ kind: 'port-refused', why: port });
    const connection = this.#connect(path, port);
    this.#give({ kind: 'port-opened' });
    connection.device = await deviceIdentity(path);
    await this.#finder.rememberOthers();
  }

  #connect(path: string, port: OpenPort): Connection {
    this.#path = path;
    const lines = createLineCutter((line) => this.#onLine(line));
    const openedAt = this.#now();
    this.#connection = { path, port, lines, openedAt, device: undefined, mayBeCut: undefined };
    return this.#connection;
  }

  #onBytes(bytes: Buffer): void {
    const connection = this.#connection;
    if (!connection) return;
    this.#heardAt = this.#now();
    connection.mayBeCut ??= this.#heardAt - connection.openedAt < BEGUN_BEFORE;
    connection.lines.take(bytes);
    // Only after the lines: the time spent on them isn't silence.
    this.#give({ kind: 'bytes-heard' });
  }

  /** The tail of a line that was under way at the opening reads as another number, where no checksum shows it. */
  #onLine(line: string): void {
    const isCut = this.#connection?.mayBeCut === true && !looksChecked(line);
    if (this.#connection) this.#connection.mayBeCut = false;
    if (isCut) this.#listener?.unfinished?.(line, this.#heardAt);
    else {
      this.#finder.notice(line);
      this.#listener?.line(line, this.#heardAt);
    }
  }

  #closePort(): void {
    this.#attempt++;
    const connection = this.#connection;
    this.#connection = undefined;
    if (!connection) return;
    this.#closing = connection.port.close();
    const tail = connection.lines.tail();
    if (tail !== '') this.#listener?.unfinished?.(tail, this.#now());
  }

  /** A hung-up port may say nothing and keep the processor busy: the device file shows that it is gone. */
  async #lookForDevice(): Promise<void> {
    const connection = this.#connection;
    if (connection?.device === undefined) return;
    const device = await deviceIdentity(connection.path);
    if (connection === this.#connection && device !== connection.device)
      this.#give({ kind: 'port-lost', why: 'unplugged (its device is gone)' });
  }
}
