// Building blocks of JSON: for each kind of value the unit in its key, its check, and the way there and back.
import * as v from 'valibot';
import {
  type Angle,
  degrees,
  type Humidity,
  humidityPercent,
  inDegrees,
  inPercent,
  millis,
  mm,
} from '../../core/units.ts';

export type Plain = null | boolean | number | string | readonly Plain[] | { readonly [key: string]: Plain };

/** The end of a value's key, which names its unit. */
type Suffix = '' | 'Mm' | 'Deg' | 'Ms' | 'Rh';

export interface Shape<T> {
  readonly suffix: Suffix;
  /** Checks what was read and turns it into the value. */
  readonly schema: v.GenericSchema<unknown, T>;
  toPlain(value: T): Plain;
  /** True for a field that may be missing. */
  readonly optional?: boolean;
}

const MOST_TEXT = 20_000;
/** Half of a surrogate pair: no file can hold it as UTF-8. */
const HALF_CHARACTER = /\p{Cs}/u;
/**
 * No turner's job holds a number beyond these: a length of a hundred metres, a hundred turns, a date that no calendar has. Larger
 * ones run out of what a number can be once they are squared (our own choice).
 */
const LONGEST_MM = 1e5;
const MOST_DEGREES = 36_000;
const LATEST_MS = 8.64e15;
/** A capture of three peaks has two degrees of freedom; far below one, Student's t has no end. */
const LEAST_FREEDOM = 0.5;

const within = (most: number) => v.pipe(v.number(), v.minValue(-most), v.maxValue(most));
const finite = within(1e12);
const millimetres = within(LONGEST_MM);
const safeWhole = v.pipe(v.number(), v.safeInteger());

/** A value that is its own JSON. */
const itself = <T extends Plain>(schema: v.GenericSchema<unknown, T>, suffix: Suffix = ''): Shape<T> => ({
  suffix,
  schema,
  toPlain: (value) => value,
});

/** A whole number of either sign. */
export const whole = itself(safeWhole);
/** A count of at least `least`. */
export const countFrom = (least: number): Shape<number> => itself(v.pipe(safeWhole, v.minValue(least)));
export const count = countFrom(0);
export const positiveNumber = itself(v.pipe(finite, v.gtValue(0)));
export const flag = itself(v.boolean());
export const anyLength = itself(v.pipe(millimetres, v.transform(mm)), 'Mm');
export const positiveLength = itself(v.pipe(millimetres, v.gtValue(0), v.transform(mm)), 'Mm');
export const unsignedLength = itself(v.pipe(millimetres, v.minValue(0), v.transform(mm)), 'Mm');
export const time = itself(v.pipe(within(LATEST_MS), v.transform(millis)), 'Ms');
/** One of some words. */
export const word = <const W extends string>(...words: readonly W[]): Shape<W> => itself(v.picklist(words));
/** A text; half a character in one of ours becomes a replacement character, so that it is never refused when it is saved. */
export const string: Shape<string> = {
  suffix: '',
  schema: v.pipe(
    v.string(),
    v.maxLength(MOST_TEXT),
    v.check((value) => !HALF_CHARACTER.test(value), 'half a character'),
  ),
  toPlain: (value) => value.replace(/\p{Cs}/gu, '\ufffd'),
};

export const angle: Shape<Angle> = {
  suffix: 'Deg',
  schema: v.pipe(within(MOST_DEGREES), v.transform(degrees)),
  toPlain: (value) => spelled(value, inDegrees(value), degrees),
};

/** Relative humidity, in percent. */
export const humidity: Shape<Humidity> = {
  suffix: 'Rh',
  schema: v.pipe(v.number(), v.minValue(0), v.maxValue(100), v.transform(humidityPercent)),
  toPlain: (value) => spelled(value, inPercent(value), humidityPercent),
};

/** Degrees of freedom: a number, or infinite, which JSON has no number for. */
export const freedom: Shape<number> = {
  suffix: '',
  schema: v.union([
    v.pipe(finite, v.minValue(LEAST_FREEDOM)),
    v.pipe(
      v.literal('infinite'),
      v.transform(() => Number.POSITIVE_INFINITY),
    ),
  ]),
  toPlain: (value) => (value === Number.POSITIVE_INFINITY ? 'infinite' : value),
};

/** The shortest of a few spellings that reads back as the same value, so that 60 stays 60. */
function spelled<T>(value: T, plain: number, back: (spelling: number) => T): number {
  const spellings = [Number(plain.toPrecision(12)), Number(plain.toPrecision(15)), plain];
  return spellings.find((spelling) => back(spelling) === value) ?? plain;
}

export const nullable = <T>({ suffix, schema, toPlain }: Shape<T>): Shape<T | null> => ({
  suffix,
  schema: v.nullable(schema),
  toPlain: (value) => (value === null ? null : toPlain(value)),
});

export const list = <T>({ suffix, schema, toPlain }: Shape<T>): Shape<readonly T[]> => ({
  suffix,
  schema: v.array(schema),
  toPlain: (values) => values.map(toPlain),
});

type Optional<T> = Shape<T> & { readonly optional: true };
export const optional = <T>(shape: Shape<T>): Optional<T> => ({ ...shape, optional: true });

type IsOptional<T, K extends keyof T> = Record<never, never> extends Pick<T, K> ? true : false;

/** A shape for every field of T: a new field in core doesn't compile until it has one here. */
type Fields<T> = {
  readonly [K in keyof T]-?: IsOptional<T, K> extends true ? Optional<Exclude<T[K], undefined>> : Shape<T[K]>;
};

/** An object with known fields; unknown fields pass the check and are kept. */
export const record = <T extends object>(fields: Fields<T>): Shape<T> => recordOf<T>(fields);

function recordOf<T extends object>(fields: object): Shape<T> {
  const known = Object.entries(fields).map(([name, shape]: [string, Shape<unknown>]) => ({
    name,
    key: name + shape.suffix,
    shape,
  }));
  const entries = known.map(({ key, shape }): [string, v.GenericSchema<unknown>] => [
    key,
    shape.optional ? v.optional(shape.schema) : shape.schema,
  ]);
  const present = (cells: readonly (readonly [string, unknown])[]): object =>
    Object.fromEntries(cells.filter(([, cell]) => cell !== undefined));
  // The casts of the codec: `fields` names exactly the keys of T, each with its own check and its own way into JSON.
  return {
    suffix: '',
    schema: v.pipe(
      v.looseObject(Object.fromEntries(entries)),
      v.transform((plain) => present(known.map(({ key, name }) => [name, plain[key]])) as T),
    ),
    toPlain(value) {
      const held = value as Readonly<Record<string, unknown>>;
      const plain = known.map(({ name, key, shape }): [string, unknown] => [
        key,
        held[name] === undefined ? undefined : shape.toPlain(held[name]),
      ]);
      return present(plain) as Plain;
    },
  };
}

/** The fields of several objects that their `kind` tells apart; the kind itself is not among them. */
export type FieldsByKind<T extends { readonly kind: string }> = {
  readonly [K in T['kind']]: Fields<Omit<Extract<T, { kind: K }>, 'kind'>>;
};

/** One of several objects that their `kind` tells apart. */
export function kinds<T extends { readonly kind: string }>(fields: FieldsByKind<T>): Shape<T> {
  const byKind = new Map(
    Object.entries<object>(fields).map(([kind, rest]) => [kind, recordOf<T>({ kind: word(kind), ...rest })]),
  );
  return {
    suffix: '',
    schema: v.lazy((input) => shapeFor(byKind, input)?.schema ?? unknownKind([...byKind.keys()])),
    toPlain: (value) => byKind.get(value.kind)?.toPlain(value) ?? null,
  };
}

const unknownKind = (known: readonly string[]): v.GenericSchema<unknown, never> =>
  v.pipe(v.object({ kind: v.picklist(known) }), v.never());

const shapeFor = <T>(byKind: ReadonlyMap<string, Shape<T>>, input: unknown): Shape<T> | undefined => {
  const kind = typeof input === 'object' && input !== null && 'kind' in input ? input.kind : undefined;
  return typeof kind === 'string' ? byKind.get(kind) : undefined;
};
