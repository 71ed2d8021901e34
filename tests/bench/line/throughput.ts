// Lines a second from a real pseudo-terminal: the library's port and line parser alone, beside our port, wire and core.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ReadlineParser } from '@serialport/parser-readline';
import { SerialPort } from 'serialport';
import type { LineEvent } from '../../../src/core/bench/event.ts';
import { addReading, startCapture } from '../../../src/core/measure/capture.ts';
import { defaultSettings } from '../../../src/core/measure/capture-settings.ts';
import { createSerialLink } from '../../../src/link/serial-link.ts';
import { encode } from '../../../src/wire/encode.ts';
import { createWatch } from '../../../src/wire/watch.ts';
import { openSerialPair, type SerialPair } from '../../support/serial-pair.ts';

/** Lines a second, the median of the rounds. */
export interface Throughput {
  readonly lines: number;
  readonly rounds: number;
  readonly library: number;
  readonly wire: number;
  readonly wireAndCapture: number;
}

/** A bench's mixture: eight readings to one feed total, every line checked. */
const text = (lines: number): string =>
  Array.from({ length: lines }, (_, i) => {
    const shown = (42 + Math.sin(i / 9) / 4).toFixed(2);
    return i % 9 === 8
      ? encode({ kind: 'FE', total: i % 40 }, i, i)
      : encode({ kind: 'DI', text: shown, unit: 'mm' }, i, i);
  }).join('\n');

/** Listens until `lines` came; settles with the seconds from the first byte asked for to the last line heard. */
type Reader = (pair: SerialPair, lines: number, flood: () => Promise<void>) => Promise<number>;

const library: Reader = async (pair, lines, flood) => {
  const port = new SerialPort({ path: pair.devicePath, baudRate: 115200, autoOpen: false });
  await new Promise<void>((done, failed) => port.open((cause) => (cause ? failed(cause) : done())));
  let heard = 0;
  const all = new Promise<void>((done) => {
    port.pipe(new ReadlineParser({ encoding: 'latin1' })).on('data', () => {
      heard++;
      if (heard === lines) done();
    });
  });
  const began = performance.now();
  await Promise.all([flood(), all]);
  const took = performance.now() - began;
  await new Promise<void>((done) => port.close(() => done()));
  return took / 1000;
};

const ours =
  (take: (event: LineEvent) => void): Reader =>
  async (pair, lines, flood) => {
    const watch = createWatch();
    let heard = 0;
    let opened = (): void => undefined;
    let finished = (): void => undefined;
    const open = new Promise<void>((done) => {
      opened = done;
    });
    const all = new Promise<void>((done) => {
      finished = done;
    });
    const link = createSerialLink({ path: pair.devicePath, ports: async () => [] });
    link.open({
      event: (event) => event.kind === 'link-opened' && opened(),
      line(line, heardAt) {
        watch.push(line, heardAt, take);
        heard++;
        if (heard === lines) finished();
      },
    });
    await open;
    const began = performance.now();
    await Promise.all([flood(), all]);
    const took = performance.now() - began;
    await link.close();
    return took / 1000;
  };

/** A watch whose readings also go through a rocking capture, begun anew as often as a turner would. */
function captured(): (event: LineEvent) => void {
  let capture = startCapture(defaultSettings('bore'));
  let taken = 0;
  return (event) => {
    if (event.kind !== 'reading-received') return;
    if (taken++ % 400 === 0) capture = startCapture(defaultSettings('bore'));
    capture = addReading(capture, event.reading);
  };
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.POSITIVE_INFINITY;

/** Every reader in turn, `rounds` times over, on one pair. */
export async function measureThroughput(lines = 200_000, rounds = 5): Promise<Throughput> {
  const folder = mkdtempSync(join(tmpdir(), 'lidwright-flood-'));
  const file = join(folder, 'lines');
  writeFileSync(file, `${text(lines)}\n`, 'latin1');
  const pair = await openSerialPair();
  const flood = (): Promise<void> => pair.writeFile(file);
  const seconds = { library: [] as number[], wire: [] as number[], wireAndCapture: [] as number[] };
  try {
    for (let round = 0; round < rounds; round++) {
      seconds.library.push(await library(pair, lines, flood));
      seconds.wire.push(await ours(() => undefined)(pair, lines, flood));
      seconds.wireAndCapture.push(await ours(captured())(pair, lines, flood));
    }
  } finally {
    await pair.close();
    rmSync(folder, { recursive: true, force: true });
  }
  const rate = (each: readonly number[]): number => lines / median(each);
  return {
    lines,
    rounds,
    library: rate(seconds.library),
    wire: rate(seconds.wire),
    wireAndCapture: rate(seconds.wireAndCapture),
  };
}
