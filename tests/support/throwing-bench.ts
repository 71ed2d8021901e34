// The real bench on the real records, but for one thing: while 13 is typed, what the screen is given makes a component throw.

import { drawnDisplay } from '../../src/commands/bench/displays.ts';
import { ON_A_LINE, openBench } from '../../src/commands/bench/open.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { readKit } from '../../src/kit/kit.ts';
import { hostClock } from '../../src/link/link.ts';
import { homeOf } from '../../src/records/home.ts';
import { openRecords } from '../../src/records/jobs.ts';

const home = homeOf(process.env);
const records = openRecords(home);
if (!records.ok) throw new Error(records.trouble.kind);

const misleading = (bench: Bench): Bench =>
  bench.typed === '13' ? { ...bench, mode: { kind: 'none such' } as unknown as Bench['mode'] } : bench;

process.exitCode = await openBench({
  records: records.value,
  unit: 'mm',
  devices: { bareUnit: 'mm', deeper: 'up' },
  now: hostClock,
  findLink: async () => null,
  seekLink: async () => null,
  ...ON_A_LINE,
  kit: () => readKit(home, { flags: {}, env: {} }).kit,
  rescue: () => undefined,
  keepFeed: () => ({ trouble: 'none is kept here' }),
  writeSheet: async () => ({ trouble: 'none is written here' }),
  display: (dispatch, bench, fail) =>
    drawnDisplay({ bell: 'off', glyphs: 'all' })(dispatch, () => misleading(bench()), fail),
});
