// What it would cost to refuse the wrong answers that are still kept: the share of good captures that must be refused with them.
import { trendOf } from '../../../src/core/measure/against.ts';
import type { Agreement } from '../../../src/core/measure/agreement.ts';
import { verdictOf } from '../../../src/core/measure/verdict.ts';
import { meanOf } from '../../../src/core/statistics.ts';
import { type Conditions, FAR, rockedBy } from './measure.ts';
import { PLAIN } from './simulate.ts';

/** What tells a wrong capture from a good one: the higher, the more suspect. Each is from the line alone. */
interface Suspicion {
  readonly name: string;
  readonly of: (agreement: Agreement, sign: number) => number;
}

const few: Suspicion = { name: 'few peaks agree', of: ({ agreeing }) => -agreeing.length };

const small: Suspicion = {
  name: 'few agree, none of them tall',
  of: ({ agreeing }) => -Math.max(...agreeing.map(({ height }) => height)) * (agreeing.length - 2),
};

const lowFirst: Suspicion = {
  name: 'the first peak is low, and few agree',
  of({ agreeing, nearby }, sign) {
    const level = meanOf(agreeing.map(({ value }) => value));
    const first = Math.max(...nearby.slice(0, 1).map(({ value }) => sign * (level - value)));
    return first > 0.03 ? 1 / agreeing.length : 0;
  },
};

const trend: Suspicion = {
  name: 'the peaks change from first to last',
  of({ agreeing, nearby }) {
    const level = agreeing[0]?.value ?? 0;
    const values = nearby.map(({ value }) => value).filter((value) => Math.abs(value - level) < 2 * FAR);
    return Math.abs(trendOf(values, 0));
  },
};

const alike: Suspicion = {
  name: 'the peaks end alike, short of their shape',
  of({ agreeing }, sign) {
    const reached = agreeing.map((peak) => peak.reached);
    const beyond = meanOf(agreeing.map((peak) => sign * (peak.value - peak.reached)));
    return Math.max(...reached) - Math.min(...reached) > 0.015 ? 0 : beyond;
  },
};

const SLOW = 4;

const TROUBLES: readonly {
  readonly name: string;
  readonly of: Partial<Conditions>;
  readonly by: readonly Suspicion[];
}[] = [
  { name: '4 a second', of: { rate: SLOW }, by: [few, trend] },
  { name: 'pulled, 4 a second', of: { hand: 'pulled', rate: SLOW }, by: [few, trend] },
  { name: 'walking along a taper', of: { trouble: 'taper' }, by: [trend, few] },
  { name: 'drift', of: { trouble: 'drift' }, by: [trend, few] },
  { name: 'zero slips', of: { trouble: 'slip' }, by: [lowFirst, few] },
  { name: 'zero slips, 10 strokes', of: { trouble: 'slip', strokes: 10 }, by: [lowFirst, few] },
  { name: 'one-sided', of: { how: 'one-sided' }, by: [small, few] },
  { name: 'held off the diameter', of: { how: 'held-off' }, by: [small, few] },
  { name: 'rocked short of it', of: { how: 'short' }, by: [small, few] },
  { name: 'clipped below the peak', of: { trouble: 'clipped' }, by: [alike] },
];

/** Hands that rock well, at the trouble's own rate. */
const GOOD: readonly Partial<Conditions>[] = [{}, { hand: 'pulled' }, { hand: 'pulled', side: 'outside' }];

/** Shares of good captures refused besides those that are refused today. */
const COSTS = [0, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2];

interface Kept {
  readonly agreement: Agreement;
  readonly sign: number;
  readonly isWrong: boolean;
  readonly isTold: boolean;
}

function keptOf(of: Partial<Conditions>, traces: number, from: number): readonly Kept[] {
  const conditions = { ...PLAIN, ...of };
  return Array.from({ length: traces }, (_, i) => from + i).flatMap((seed) => {
    const { rock, capture } = rockedBy(conditions, seed);
    const verdict = verdictOf(capture);
    const { agreement } = capture.found;
    if (verdict.state !== 'steady' || !agreement) return [];
    const isWrong = Math.abs(verdict.diameter - rock.truth) > FAR;
    const isTold = isWrong && Math.abs(verdict.diameter - (rock.other ?? rock.truth)) > FAR;
    return [{ agreement, sign: conditions.side === 'bore' ? 1 : -1, isWrong, isTold }];
  });
}

/** For each trouble and what tells it: wrong and told answers left, in 1,000 captures, at each cost; worst of the good hands. */
export function printTradeOff(traces: number, from: number): void {
  const goodAt = new Map(
    [PLAIN.rate, SLOW].map((rate) => [rate, GOOD.map((of) => keptOf({ ...of, rate }, traces, from))]),
  );
  console.log(
    `Wrong / told answers left in 1,000 captures, where so many percent more of the good ones are refused (the worst of clean,
pulled, and outside pulled, as many readings a second); the last column is the cost at which one told answer is left. ${traces} traces a row from seed ${from}.`,
  );
  console.log(`${''.padEnd(68)}${COSTS.map((cost) => `${100 * cost} %`.padStart(13)).join('')}   one told`);
  for (const { name, of, by } of TROUBLES) {
    const kept = keptOf(of, traces, from);
    for (const suspicion of by) {
      const score = (one: Kept) => suspicion.of(one.agreement, one.sign);
      const good = goodAt.get(Number(of.rate ?? PLAIN.rate)) ?? [];
      const scores = good.map((some) => some.map(score).sort((a, b) => b - a));
      const left = (cost: number) => {
        const most = Math.max(
          ...scores.map((some) => some[Math.floor(cost * traces)] ?? Number.NEGATIVE_INFINITY),
        );
        return cost === 0 ? kept : kept.filter((one) => score(one) <= most);
      };
      const count = (some: readonly Kept[], is: 'isWrong' | 'isTold') =>
        (1000 * some.filter((one) => one[is]).length) / traces;
      const figures = COSTS.map((cost) =>
        `${count(left(cost), 'isWrong').toFixed(1)} / ${count(left(cost), 'isTold').toFixed(1)}`.padStart(13),
      );
      const met = Array.from({ length: 101 }, (_, i) => i / 200).find(
        (cost) => count(left(cost), 'isTold') <= 1,
      );
      const price = met === undefined ? 'over 50 %' : `${(100 * met).toFixed(1)} %`;
      console.log(`${name.padEnd(25)}${suspicion.name.padEnd(43)}${figures.join('')}${price.padStart(11)}`);
    }
  }
}
