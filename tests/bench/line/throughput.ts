// Lines a second from a real pseudo-terminal: the library's port and line parser alone, then what our link, wire and capture add.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ReadlineParser } from '@serialport/parser-readline';
import { SerialPort } from 'serialport';
import { addReading, startCapture } from '../../../src/core/measure/capture.ts';
import { defaultSettings } from '../../../src/core/measure/capture-settings.ts';
import { medianOf } from '../../../src/core/statistics.ts';
import { hostClock } from '../../../src/link/link.ts';
import { SerialLink } from '../../../src/link/serial-link.ts';
import { encode } from '../../../src/wire/encode.ts';
import { type Emit, Watch } from '../../../src/wire/watch.ts';
import { freshFolder } from '../../support/fresh-folder.ts';
import { processorMs } from '../../support/processor.ts';
import { openSerialPair, type SerialPair } from '../../support/serial-pair.ts';
import { createChanges } from '../../support/waiting.ts';

/** What one reader did: the median of its rounds. */
export interface Rate {
  readonly linesPerSecond: number;
  /** Processor time of this process a line, in microseconds: other load on the machine hardly touches it. */
  readonly cpuPerLine: number;
}

/** A bench's mixture: eight readings to one feed total, every line checked. */
const text = (lines: number): string =>
  Array.from({ length: lines }, (_, i) => {
    const shown = (42 + Math.sin(i / 9) / 4).toFixed(2);
    return encode(
      i % 9 === 8 ? { kind: 'FE', total: i % 40 } : { kind: 'DI', text: shown, unit: 'mm' },
      i,
      i,
    );
  }).join('\n');

/** Opens the pair's port, hands each line on, and gives a way to close it. */
type Reader = (pair: SerialPair, line: (text: string) => void) => Promise<() => Promise<void>>;

const byLibrary: Reader = async (pair, line) => {
  const port = new SerialPort({ path: pair.devicePath, baudRate: 115200, autoOpen: false });
  await new Promise<void>((done, failed) => port.open((cause) => (cause ? failed(cause) : done())));
  port.pipe(new ReadlineParser({ encoding: 'latin1' })).on('data', line);
  return () => new Promise((done) => port.close(() => done()));
};

const byLink: Reader = async (pair, line) => {
  const link = new SerialLink({ path: pair.devicePath, ports: async () => [] });
  await new Promise<void>((opened) =>
    link.open({ line, event: (event) => event.kind === 'link-opened' && opened() }),
  );
  return () => link.close();
};

const watched = (emit: Emit) => (): ((line: string) => void) => {
  const watch = new Watch();
  return (line) => watch.push(line, hostClock(), emit);
};

/** Readings into a rocking capture, begun again as often as a turner would. */
function captured(): Emit {
  let capture = startCapture(defaultSettings('bore'));
  let taken = 0;
  return (event) => {
    if (event.kind !== 'reading-received') return;
    if (taken++ % 400 === 0) capture = startCapture(defaultSettings('bore'));
    capture = addReading(capture, event.reading);
  };
}

const nothing = () => (): void => undefined;
const READERS = {
  /** SerialPort and ReadlineParser as they come. */
  library: { by: byLibrary, take: nothing },
  /** Our link over the same two: the cap, reconnecting, and lines handed on in the turn of their bytes. */
  link: { by: byLink, take: nothing },
  /** Our link, each line decoded, checked and made an event. */
  wire: { by: byLink, take: watched(() => undefined) },
  /** The same, and each reading taken into a rocking capture. */
  wireAndCapture: { by: byLink, take: watched(captured()) },
} as const;
type Name = keyof typeof READERS;

/** One reader from the first byte asked for to the last line. */
async function once(name: Name, pair: SerialPair, file: string, lines: number): Promise<Rate> {
  const { by, take } = READERS[name];
  const line = take();
  let heard = 0;
  const { changed, until } = createChanges();
  const close = await by(pair, (each) => {
    line(each);
    heard++;
    if (heard === lines) changed();
  });
  const [began, spent] = [performance.now(), processorMs()];
  await Promise.all([pair.writeFile(file), until(() => heard === lines)]);
  const rate = {
    linesPerSecond: (lines / (performance.now() - began)) * 1000,
    cpuPerLine: ((processorMs() - spent) / lines) * 1000,
  };
  await close();
  return rate;
}

/** Every reader in turn on one pair, `rounds` times over after one round that only warms them all. */
export async function measureThroughput(lines = 200_000, rounds = 5): Promise<Readonly<Record<Name, Rate>>> {
  const file = join(freshFolder(), 'lines');
  writeFileSync(file, `${text(lines)}\n`, 'latin1');
  const pair = await openSerialPair();
  const found: Record<Name, Rate[]> = { library: [], link: [], wire: [], wireAndCapture: [] };
  const names = Object.keys(found) as readonly Name[];
  try {
    for (let round = 0; round <= rounds; round++)
      for (const name of names) found[name].push(await once(name, pair, file, lines));
  } finally {
    await pair.close();
  }
  const rateOf = (name: Name): Rate => ({
    linesPerSecond: medianOf(found[name].slice(1).map(({ linesPerSecond }) => linesPerSecond)),
    cpuPerLine: medianOf(found[name].slice(1).map(({ cpuPerLine }) => cpuPerLine)),
  });
  return Object.fromEntries(names.map((name) => [name, rateOf(name)])) as Record<Name, Rate>;
}
