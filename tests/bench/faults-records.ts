// The long version of the records under fire: 200 kills, 2,000 flipped bits, a file cut off at every page, 1,000 absurd imports.
import { statSync } from 'node:fs';
import { join } from 'node:path';
import { homeOf } from '../../src/records/home.ts';
import { importJobs } from '../../src/records/import.ts';
import { openRecords } from '../../src/records/jobs.ts';
import {
  buildChild,
  damageOnce,
  folderFor,
  killOnce,
  must,
  type Outcome,
  sampleDatabase,
} from './records/fire.ts';
import { everythingSaid, hostileExports } from './records/hostile.ts';
import { chance } from './records/sample.ts';

const KILLS = 200;
const FLIPS = 2000;
const IMPORTS = 1000;
const PAGE = 4096;

const say = (line: string): void => void process.stdout.write(`${line}\n`);

/** Two hundred times: work, kill -9 at a random moment, open again. Answers how many times something said to be saved was missing. */
async function kills(next: () => number): Promise<number> {
  const { folder, remove } = folderFor('kills');
  const child = buildChild();
  let saved = 0;
  let failed = 0;
  for (let round = 0; round < KILLS; round += 1) {
    const outcome = await killOnce(
      child.path,
      homeOf({}, join(folder, 'home')),
      1 + round * 1000,
      Math.floor(next() * 60),
    );
    saved += outcome.saved;
    if (outcome.missing.length > 0) failed += 1;
  }
  child.remove();
  remove();
  say(`kill -9: ${KILLS} times, ${saved} entries said to be saved, ${failed} times one of them was missing`);
  return failed;
}

class Tally {
  readonly counts = { unharmed: 0, said: 0, refused: 0, wrong: 0 };
  least = 1;
  add(outcome: Outcome, of: number): void {
    this.counts[outcome.kind] += 1;
    if (outcome.kind === 'wrong' || outcome.kind === 'refused') say(`  ${outcome.kind}: ${outcome.why}`);
    if (outcome.kind === 'said') this.least = Math.min(this.least, outcome.back.length / of);
  }
  text(what: string): string {
    const { unharmed, said, refused, wrong } = this.counts;
    const percent = (this.least * 100).toFixed(1);
    return `${what}: ${unharmed} without effect, ${said} said and set aside (at least ${percent} % of the rows came back), ${refused} refused and left, ${wrong} wrong`;
  }
}

async function damage(next: () => number): Promise<number> {
  const { folder, remove } = folderFor('whole');
  const home = homeOf({}, join(folder, 'home'));
  const whole = sampleDatabase(home, 12);
  const flips = new Tally();
  for (let round = 0; round < FLIPS; round += 1) {
    const flip = (bytes: Buffer): Buffer => {
      const at = Math.floor(next() * bytes.length);
      bytes.writeUInt8(bytes.readUInt8(at) ^ (1 << Math.floor(next() * 8)), at);
      return bytes;
    };
    flips.add(await damageOnce(home.database, whole, flip), whole.lines.length);
  }
  say(flips.text(`one bit flipped, ${FLIPS} times`));
  const cuts = new Tally();
  const pages = statSync(home.database).size / PAGE;
  for (let left = 1; left < pages; left += 1) {
    const cut = (bytes: Buffer): Buffer => bytes.subarray(0, left * PAGE + (left % 2) * 100);
    cuts.add(await damageOnce(home.database, whole, cut), whole.lines.length);
  }
  remove();
  say(cuts.text('cut off at every page'));
  return flips.counts.wrong + cuts.counts.wrong;
}

/** Imports exports with one absurd value each, and has everything shown that came of them. */
async function hostile(next: () => number): Promise<number> {
  const files = [...hostileExports(1)];
  const counts = { whole: 0, refused: 0, failed: 0 };
  for (let round = 0; round < IMPORTS; round += 1) {
    const file = files[Math.floor(next() * files.length)];
    const { folder, remove } = folderFor('hostile');
    const records = must(openRecords(homeOf({}, join(folder, 'home'))));
    try {
      const report = must(await importJobs(records, piecesOf(file?.text ?? '')));
      counts[report.refused > 0 ? 'refused' : 'whole'] += 1;
      const said = must(records.list()).jobs.map(({ id }) => everythingSaid(must(records.entriesOf(id))));
      if (/NaN|Infinity/.test(said.join())) throw new Error('it shows a value that is not a number');
    } catch (error) {
      counts.failed += 1;
      say(`  ${file?.what}: ${error instanceof Error ? error.message : error}`);
    } finally {
      records.close();
      remove();
    }
  }
  say(
    `absurd imports: ${IMPORTS}, ${counts.whole} taken whole, ${counts.refused} with a row refused, ${counts.failed} failed`,
  );
  return counts.failed;
}

async function* piecesOf(text: string): AsyncGenerator<Uint8Array> {
  yield Buffer.from(text);
}

const next = chance(20);
const failed = (await kills(next)) + (await damage(next)) + (await hostile(next));
process.exitCode = failed === 0 ? 0 : 1;
