// Builds the settings with facts that cannot work, one at a time, and fails unless each stops with a sentence.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const compiler = process.env.CC ?? 'cc';
const work = 'build/bad-facts';

// Each fact with values that must be refused. Times are in the unit of the fact's name.
const refused = {
  BOARD_ID: ['""', '"a b"', '"has,comma"', '"caf\\351"', '"a*b"', '"abcdefghijklmnopqrstuvwxy"', '"tail "'],
  CALIPER_PRESENT: [2],
  CALIPER_INVERTED: [2, -1],
  CALIPER_SAMPLE_RISING: [3],
  CALIPER_HALF_MIN_US: [0, 23, 73],
  CALIPER_EDGE_MIN_US: [0, 550],
  CALIPER_GAP_MIN_US: [180, 1000],
  CALIPER_GAP_MAX_US: [550, 4000],
  CALIPER_QUIET_US: [1000, 100001],
  CALIPER_GROUP_BITS: [0, 1, 25],
  CALIPER_EVEN_TENTHS: [0, 9, 10, 31],
  CALIPER_SILENT_MS: [0, 100, 499, 10001],
  CALIPER_ZERO_BITS: ['0x600001', '0x1000000', '0x80000'],
  CALIPER_LONGEST_MM: [0, 9, 10001],
  FEED_PRESENT: [2],
  FEED_COUNTS_STEPS: [2],
  FEED_INVERTED: [2],
  FEED_REVERSED: [2],
  FEED_EDGES_PER_DETENT: [0, 3, 6, 1004],
  FEED_REST_LINES: [-1, 4, 7],
  FEED_FASTEST_US: [0, 19, 5001],
  FEED_SETTLE_US: [0, 100, 50001],
  FEED_BOUNCE_MAX_US: [0, 50, 100001],
  FEED_SPIKE_MAX_US: [-1, 3000, 5000],
  FEED_CALM_MS: [0, 49, 10001],
  BUTTON_COUNT: [-1, 5],
  BUTTON_SETTLE_MS: [0, 1, 101],
};

const facts = readFileSync('../facts/bench-01/facts.h', 'utf8');

/** What the compiler says of settings.c with one fact changed; empty when it accepts it. */
function complaint(name, value) {
  const line = new RegExp(`^#define ${name} .*$`, 'm');
  if (!line.test(facts)) throw new Error(`bad_facts: facts.h has no ${name}`);
  writeFileSync(
    join(work, 'facts.h'),
    facts.replace(line, () => `#define ${name} ${value}`),
  );
  const built = spawnSync(
    compiler,
    [
      '-std=c99',
      '-O1',
      '-w',
      `-I${work}`,
      '-I../core',
      '-c',
      '-o',
      join(work, 'settings.o'),
      '../core/settings.c',
    ],
    { encoding: 'utf8' },
  );
  return built.status === 0 ? '' : built.stderr;
}

rmSync(work, { recursive: true, force: true });
mkdirSync(work, { recursive: true });
const defined = [...facts.matchAll(/^#define (\w+) /gm)].map(([, name]) => name);
let failed = false;
const fail = (text) => {
  failed = true;
  process.stdout.write(`bad facts: ${text}\n`);
};

let tried = 0;
for (const [name, values] of Object.entries(refused)) {
  for (const value of values) {
    tried++;
    const said = complaint(name, value);
    if (!/error: .*facts\.h: /.test(said))
      fail(`${name} ${value} is ${said ? 'refused without a sentence' : 'accepted'}`);
  }
}
if (complaint('BOARD_ID', '"abcdefghijklmnopqrstuvwx"')) fail('a board id of 24 letters is refused');
for (const name of defined) if (!(name in refused) && name !== 'BAUD') fail(`${name} is checked by nothing`);
process.stdout.write(`bad facts: ${tried} tried, each must stop the build with a sentence\n`);
process.exitCode = failed ? 1 : 0;
