// Prints every published figure beside ours: `npm run published`. Ends with 1 when a row differs or the counts do not hold.
import { type Check, difference, type Judgement, judge, needsMore } from './check.ts';
import { families } from './families.ts';

/** As few digits as tell the figure from its neighbours. */
const shown = (value: number | string): string =>
  typeof value === 'number' ? String(Number(value.toPrecision(10))) : value;
const small = (value: number | undefined): string => (value === undefined ? '-' : value.toExponential(1));

const line = (check: Check): string =>
  [
    judge(check),
    check.what,
    `${check.source} [${check.status}]`,
    shown(check.expected),
    shown(check.ours),
    small(difference(check)),
    check.allowed === undefined ? 'equal' : small(check.allowed),
    check.knownMiss ?? check.why,
  ].join(' | ');

const tally = new Map<Judgement, number>();
const wider: Check[] = [];
let missing = 0;
for (const family of families) {
  const rows = family.rows();
  console.log(`\n## ${family.name}: ${rows.length} rows`);
  console.log('judgement | what | source [status] | expected | ours | difference | allowed | why');
  for (const check of rows) {
    console.log(line(check));
    tally.set(judge(check), (tally.get(judge(check)) ?? 0) + 1);
    if (needsMore(check)) wider.push(check);
  }
  for (const [truth, why] of Object.entries(family.leftOut)) console.log(`not compared | ${truth} | ${why}`);
  missing += Math.abs(family.count - rows.length);
}
console.log(
  `\n## ${wider.length} rows agree only by a wider allowance than half of their last printed digit`,
);
for (const check of wider) console.log(line(check));
const total = [...tally.values()].reduce((so, count) => so + count, 0);
console.log(`\n${total} rows: ${[...tally].map(([judgement, count]) => `${count} ${judgement}`).join(', ')}`);
if (missing > 0) console.log(`${missing} rows more or fewer than the families declare`);
const bad = (tally.get('differs') ?? 0) + (tally.get('no longer misses') ?? 0);
process.exitCode = bad + missing === 0 ? 0 : 1;
