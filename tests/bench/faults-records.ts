// The long run of records killed and damaged: 200 kills, 2,000 flipped bits, a file cut off at every page, 1,000 absurd imports.
import { statSync } from 'node:fs';
import { homeOf } from '../../src/records/home.ts';
import { openRecords } from '../../src/records/jobs.ts';
import { type Chance, fastChanceFrom } from '../support/chance.ts';
import { freshFolder, inFreshFolder } from '../support/fresh-folder.ts';
import { importText, must } from '../support/records-home.ts';
import { everythingSaid, hostileExports } from './records/hostile.ts';
import {
  buildChild,
  damageOnce,
  flipping,
  killOnce,
  type Outcome,
  sampleDatabase,
} from './records/kill-and-damage.ts';

const KILLS = 200;
const FLIPS = 2000;
const IMPORTS = 1000;
const PAGE = 4096;

/** Two hundred times: work, kill -9 at a random moment, open again. Answers how many times something said to be saved was missing. */
async function kills(chance: Chance): Promise<number> {
  const home = homeOf({}, freshFolder());
  const child = await buildChild();
  let saved = 0;
  let failed = 0;
  for (let round = 0; round < KILLS; round += 1) {
    const outcome = await killOnce(child, home, 1 + round * 1000, chance.below(60));
    saved += outcome.saved;
    if (outcome.missing.length > 0) failed += 1;
  }
  console.log(
    `kill -9: ${KILLS} times, ${saved} entries said to be saved, ${failed} times one of them was missing`,
  );
  return failed;
}

class Tally {
  readonly counts = { unharmed: 0, said: 0, refused: 0, wrong: 0 };
  least = 1;
  add(outcome: Outcome, of: number): void {
    this.counts[outcome.kind] += 1;
    if (outcome.kind === 'wrong' || outcome.kind === 'refused')
      console.log(`  ${outcome.kind}: ${outcome.why}`);
    if (outcome.kind === 'said') this.least = Math.min(this.least, outcome.back.length / of);
  }
  text(what: string): string {
    const { unharmed, said, refused, wrong } = this.counts;
    const percent = (this.least * 100).toFixed(1);
    return `${what}: ${unharmed} without effect, ${said} said and set aside (at least ${percent} % of the rows came back), ${refused} refused and left, ${wrong} wrong`;
  }
}

async function damage(chance: Chance): Promise<number> {
  const home = homeOf({}, freshFolder());
  const whole = sampleDatabase(home, 12);
  const flips = new Tally();
  for (let round = 0; round < FLIPS; round += 1)
    flips.add(await damageOnce(home.database, whole, flipping(chance)), whole.lines.length);
  console.log(flips.text(`one bit flipped, ${FLIPS} times`));
  const cuts = new Tally();
  const pages = statSync(home.database).size / PAGE;
  for (let left = 1; left < pages; left += 1) {
    const cut = (bytes: Buffer): Buffer => bytes.subarray(0, left * PAGE + (left % 2) * 100);
    cuts.add(await damageOnce(home.database, whole, cut), whole.lines.length);
  }
  console.log(cuts.text('cut off at every page'));
  return flips.counts.wrong + cuts.counts.wrong;
}

/** Imports an export with an absurd value, and has everything shown that came of it. */
async function importAbsurd(text: string, folder: string): Promise<'whole' | 'refused'> {
  const records = must(openRecords(homeOf({}, folder)));
  try {
    const report = await importText(records, text);
    const said = must(records.list()).jobs.map(({ id }) => everythingSaid(must(records.entriesOf(id))));
    if (/NaN|Infinity/.test(said.join())) throw new Error('it shows a value that is not a number');
    return report.refused > 0 ? 'refused' : 'whole';
  } finally {
    records.close();
  }
}

async function hostile(chance: Chance): Promise<number> {
  const files = [...hostileExports(1)];
  const counts = { whole: 0, refused: 0, failed: 0 };
  for (let round = 0; round < IMPORTS; round += 1) {
    const { what, text } = chance.pick(files);
    const outcome = await inFreshFolder((folder) => importAbsurd(text, folder)).catch((error) => {
      console.log(`  ${what}: ${error instanceof Error ? error.message : error}`);
      return 'failed' as const;
    });
    counts[outcome] += 1;
  }
  console.log(
    `absurd imports: ${IMPORTS}, ${counts.whole} taken whole, ${counts.refused} with a row refused, ${counts.failed} failed`,
  );
  return counts.failed;
}

const chance = fastChanceFrom(20);
const failed = (await kills(chance)) + (await damage(chance)) + (await hostile(chance));
process.exitCode = failed === 0 ? 0 : 1;
