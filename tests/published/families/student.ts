// JCGM 100 Table G.2 and others: the library's Student's t before it is trusted, and the normal distribution.
import { coverageFactor, normalShare } from '../../../src/core/measure/student.ts';
import type { Check } from '../check.ts';
import { figure, group, type Row, sourceOf, statusOf } from '../source.ts';

export const count = 13;

const PRINTED = /^t_(0\.\d+) nu=(\d+)$/;

const fromTable = (row: Row): readonly Check[] => {
  const [, share, degrees] = PRINTED.exec(row.id) ?? [];
  if (share === undefined || degrees === undefined) return [];
  return [
    {
      what: `t for ${share} and ${degrees} degrees of freedom`,
      source: sourceOf(row),
      status: statusOf(row),
      expected: figure(row, 't'),
      ours: coverageFactor(Number(share), Number(degrees)),
      allowed: 0.005 + 1e-9,
      why: 'half of the last printed digit',
    },
  ];
};

const closed = (what: string, expected: number, ours: number): Check => ({
  what,
  source: 'closed form of the distribution for 1 and 2 degrees of freedom',
  status: 'DERIVED',
  expected,
  ours,
  allowed: 1e-7,
  why: 'what the library was measured to keep',
});

/** t for 1 degree of freedom is tan(pi p / 2); for 2 it is 2 a sqrt(2 / (4 u (1-u))) with a = u - 1/2. */
function closedForms(): readonly Check[] {
  const two = (share: number): number => {
    const upper = (1 + share) / 2;
    return 2 * (upper - 0.5) * Math.sqrt(2 / (4 * upper * (1 - upper)));
  };
  return [
    closed('t for 0.95 and 1 degree of freedom', Math.tan((Math.PI * 0.95) / 2), coverageFactor(0.95, 1)),
    closed('t for 0.95 and 2 degrees of freedom', two(0.95), coverageFactor(0.95, 2)),
    closed('t for 0.99 and 2 degrees of freedom', two(0.99), coverageFactor(0.99, 2)),
  ];
}

function normal(): readonly Check[] {
  const of = { source: 'JCGM 100 Table G.1 and G.2, last row', status: 'MEMORY' } as const;
  const endless = coverageFactor(0.95, Number.POSITIVE_INFINITY);
  return [
    {
      ...of,
      what: 't for 0.95 without limit',
      expected: 1.96,
      ours: endless,
      allowed: 0.005,
      why: 'half of the last printed digit',
    },
    {
      ...of,
      what: 't for 0.95 where the library gives way to the normal',
      expected: endless,
      ours: coverageFactor(0.95, 1e6),
      allowed: 3e-6,
      why: 'the first term of the difference, (z + z^3) / (4 nu)',
    },
    {
      ...of,
      what: 'share within 1 standard deviation',
      expected: 0.6827,
      ours: normalShare(1) - normalShare(-1),
      allowed: 0.00005,
      why: 'half of the last printed digit',
    },
    {
      ...of,
      what: 'share within 2 standard deviations',
      expected: 0.9545,
      ours: normalShare(2) - normalShare(-2),
      allowed: 0.00005,
      why: 'half of the last printed digit',
    },
  ];
}

export const rows = (): readonly Check[] => [
  ...group('3a_gum').flatMap(fromTable),
  ...closedForms(),
  ...normal(),
];
