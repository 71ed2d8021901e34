// One published figure beside ours: what it is, where it stands, and how far apart the two may be.

/** Whether the figure was read in a reproduction of its source, recalled from memory, or derived from what was. */
export type Status = 'READ' | 'MEMORY' | 'DERIVED' | 'COMMON PRACTICE';

export interface Check {
  readonly what: string;
  /** The document with its table or clause. */
  readonly source: string;
  readonly status: Status;
  readonly expected: number | string;
  readonly ours: number | string;
  /** The largest difference that is agreement; left out for text, which agrees or does not. */
  readonly allowed?: number;
  /** Half of the last printed digit: the report says which rows agree only because more than that is allowed. */
  readonly printed?: number;
  /** Why so much is allowed. */
  readonly why: string;
  /** A figure of the source that ours is known not to meet, and why; the row fails once the two agree after all. */
  readonly knownMiss?: string | undefined;
}

/** The figures of one source. */
export interface Family {
  readonly name: string;
  readonly rows: () => readonly Check[];
  /** How many rows there must be. */
  readonly count: number;
  /** Figures not compared, as `group/id/key`, `group/id` or `group`, with the reason. */
  readonly leftOut: Readonly<Record<string, string>>;
}

export type Judgement = 'agrees' | 'differs' | 'misses as known' | 'no longer misses';

/** Ours less expected; undefined for text. */
export const difference = (check: Check): number | undefined =>
  typeof check.expected === 'number' && typeof check.ours === 'number'
    ? check.ours - check.expected
    : undefined;

/** Whether a row agrees only because more than its printed rounding is allowed. */
export function needsMore(check: Check): boolean {
  const apart = difference(check);
  return judge(check) === 'agrees' && check.printed !== undefined && Math.abs(apart ?? 0) > check.printed;
}

/** Text agrees when equal; a number when its difference is within what is allowed, and is a number at all. */
export function judge(check: Check): Judgement {
  const apart = difference(check);
  const within =
    apart === undefined ? check.ours === check.expected : Math.abs(apart) <= (check.allowed ?? 0);
  if (check.knownMiss === undefined) return within ? 'agrees' : 'differs';
  return within ? 'no longer misses' : 'misses as known';
}
