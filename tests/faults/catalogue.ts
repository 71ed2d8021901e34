// Every fault of a device by name: what it does, what the screen must say, and how the bench is brought back to work. The table of
// what the turner sees is in DEVELOPERS.md.
import { expect } from 'vitest';
import { bigNumber } from '../support/big-digits.ts';
import { type FaultyBench, LIVE } from '../support/faulty-bench.ts';

interface Fault {
  readonly name: string;
  /** Misbehaves, and waits until the screen says so. */
  readonly happens: (bench: FaultyBench) => Promise<unknown>;
  /** Behaves again, where that takes more than the next reading. */
  readonly mends?: (bench: FaultyBench) => Promise<unknown>;
  /** Bores that are kept while it happens; none by default. */
  readonly bores?: number;
}

/** Says who it is and reads on: its name stands on the screen while readings come. */
const hello = async ({ device, eye }: FaultyBench): Promise<void> => {
  await device.hello();
  await device.holds(42);
  await eye.untilShown(device.id);
};

/** Two rocks of a new capture: too few to be steady. */
const halfRocks = async (bench: FaultyBench): Promise<void> => {
  await bench.startsOver();
  await bench.eye.goes([() => bench.device.rock(42.3, 2), /\d peaks?, \d agree/]);
};

/** Each works on a bench that has heard this board and stands at the bore. */
export const FAULTS: readonly Fault[] = [
  { name: 'drops lines', happens: (bench) => counts(bench, 3, () => bench.device.drops(42.11, 3)) },
  { name: 'repeats a line', happens: (bench) => counts(bench, 2, () => bench.device.repeats(42.12, 3)) },
  { name: 'garbles lines', happens: (bench) => counts(bench, 8, () => bench.device.garbles(42.13, 8)) },
  { name: 'splits lines anywhere', happens: ({ device }) => device.splits(42.14, 42.15, 42.16) },
  {
    name: 'says what only a later version knows',
    happens: (bench) => counts(bench, 1, () => bench.device.speaksOfLaterThings()),
  },
  { name: 'sends escape sequences', happens: (bench) => counts(bench, 3, () => bench.device.sendsEscapes()) },
  {
    name: 'never ends a line',
    async happens(bench) {
      await counts(bench, 1, () => bench.device.pair.write('47.11,'.repeat(10_000)));
      await bench.eye.untilShown('STALE');
    },
    mends: ({ device }) => device.pair.write('\n'),
  },
  {
    name: 'speaks at another speed (noise)',
    async happens({ device, eye }) {
      const before = faultsOn(eye.screen());
      await device.speaksNoise(20_000);
      await eye.until('more counted', (screen) => faultsOn(screen) > before + 10);
      await eye.untilShown('STALE');
    },
  },
  {
    name: 'counts backwards',
    async happens({ device, eye }) {
      const before = restartsOn(eye.screen());
      await device.countsBackwards(42.17, 4);
      await eye.until('4 restarts counted', (screen) => restartsOn(screen) === before + 4);
    },
    mends: hello,
  },
  { name: 'restarts', happens: (bench) => counts(bench, 1, () => bench.device.restart()) },
  {
    name: 'restarts between two feed lines, its hello lost',
    happens: (bench) => counts(bench, 2, () => bench.device.restartsUnheard()),
  },
  {
    name: 'lies about the protocol version',
    async happens({ device, eye }) {
      await device.liesAboutVersion('2', 47.11);
      await eye.untilShown('board speaks version 2, not 1');
    },
    mends: hello,
  },
  {
    name: 'switches its unit mid-rock',
    async happens(bench) {
      await halfRocks(bench);
      await bench.device.switchesUnit(42.1, 42.15, 42.2, 42.22, 42.25, 42.26);
      await bench.eye.untilShown('the caliper was switched from mm');
    },
    mends: (bench) => bench.startsOver(),
  },
  {
    name: 'changes its board id',
    async happens({ device, eye }) {
      await device.becomes('other-02');
      await eye.untilShown('This is another board, other-02');
    },
    mends: hello,
  },
  {
    name: "floods at the port's full rate",
    async happens({ device, eye }) {
      const before = faultsOn(eye.screen());
      await device.floods(42.18, 20_000);
      await device.reads(42.19);
      const over = (screen: readonly string[]) =>
        bigNumber(screen, LIVE) === '42.19' && faultsOn(screen) === before;
      await eye.until('the flood is over and nothing lost', over);
    },
  },
  {
    name: 'stalls',
    async happens({ eye }) {
      await eye.untilShown('STALE');
      await eye.untilShown(/silent \d/);
    },
  },
  {
    name: 'is unplugged mid-capture and plugged in again',
    async happens(bench) {
      await halfRocks(bench);
      await bench.device.pair.unplug();
      await bench.eye.untilShown(/unplugged/);
    },
    async mends(bench) {
      await comesBack(bench);
      await bench.rocksBore(2);
      await bench.startsOver();
    },
  },
  {
    name: 'is unplugged right after writing, mid-line',
    async happens({ device, eye }) {
      await device.goesMidLine(42.2);
      await eye.untilShown(/unplugged/);
    },
    async mends(bench) {
      await comesBack(bench);
      await bench.device.reads(42.01);
      await bench.eye.until('its last reading', (screen) => bigNumber(screen, LIVE) === '42.01');
    },
  },
  {
    name: 'is unplugged as Enter is pressed',
    async happens(bench) {
      const { device, eye } = bench;
      await bench.startsOver();
      await bench.rocksBore();
      const unplugged = device.pair.unplug();
      eye.press('enter');
      await unplugged;
      await eye.untilShown('KEPT');
      await eye.untilShown(/unplugged/);
    },
    async mends(bench) {
      await comesBack(bench);
      await bench.undoesBore();
    },
    bores: 1,
  },
  {
    name: 'is one of two boards, with two benches open',
    async happens({ day, device }) {
      const second = await day.board({ id: 'second-02' });
      const beside = day.open(second);
      await second.pair.waitForReceived('?');
      await second.hello();
      await beside.untilShown('second-02');
      await Promise.all([second.holds(33.33), device.holds(41.5)]);
      await beside.until('its own reading', (screen) => bigNumber(screen, LIVE) === '33.33');
      const third = await day.run('ports', '--port', device.path);
      expect(third).toMatchObject({ code: 1, out: expect.stringMatching(/is open in .*\(process \d+\)/) });
      beside.press('q');
      await beside.ended();
    },
  },
  {
    name: 'goes on while the clock is set back an hour',
    async happens(bench) {
      for (let bore = 0; bore < 2; bore++) {
        await bench.takesBore();
        await bench.undoesBore();
        bench.eye.signal('SIGUSR2');
      }
      const { entries } = await bench.kept();
      const [first, second] = entries.filter(({ fact }) => fact.kind === 'bore-taken').slice(-2);
      expect(first && second && second.atMs - first.atMs).toBeLessThan(-3_000_000);
    },
    bores: 2,
  },
];

/** Plugged in again, asked by the program, and answering. */
export async function comesBack(bench: FaultyBench): Promise<void> {
  const asked = bench.device.pair.received().split('?').length - 1;
  await bench.device.pair.replug();
  await bench.device.pair.waitForReceived('?', asked + 1);
  await hello(bench);
}

const COUNTED = /(\d+) (lost|damaged|unknown|restarts?|faults?)\b/g;

/** Everything that the line's health counts against the line, however it is put together. */
const faultsOn = (screen: readonly string[]): number =>
  [...(screen[0] ?? '').matchAll(COUNTED)].reduce((sum, [, count]) => sum + Number(count), 0);

const restartsOn = (screen: readonly string[]): number =>
  Number(/(\d+) restarts?\b/.exec(screen[0] ?? '')?.[1] ?? 0);

/** Waits until exactly this many more are counted than before. */
async function counts(bench: FaultyBench, more: number, happens: () => Promise<unknown>): Promise<void> {
  const before = faultsOn(bench.eye.screen());
  await happens();
  await bench.eye.until(`${more} more faults counted`, (screen) => faultsOn(screen) === before + more);
}
