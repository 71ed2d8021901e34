// Building blocks of JSON: for each kind of value the unit in its key, its check, and the way there and back.
import * as v from 'valibot';
import {
  type Angle,
  degrees,
  type Humidity,
  humidityPercent,
  inDegrees,
  inPercent,
  type Length,
  type Millis,
  millis,
  mm,
} from '../../core/units.ts';

export type Plain = null | boolean | number | string | readonly Plain[] | { readonly [key: string]: Plain };

export interface Shape<T> {
  /** The end of such a value's key, which names its unit. */
  readonly suffix: '' | 'Mm' | 'Deg' | 'Ms' | 'Rh';
  /** Checks what was read and turns it into the value. */
  readonly schema: v.GenericSchema<unknown, T>;
  toPlain(value: T): Plain;
}

/** A field that may be missing. */
export interface OptionalShape<T> extends Shape<T> {
  readonly optional: true;
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
const text = v.pipe(
  v.string(),
  v.maxLength(MOST_TEXT),
  v.check((value) => !HALF_CHARACTER.test(value), 'half a character'),
);

const safeWhole = v.pipe(v.number(), v.safeInteger());
const above = v.pipe(finite, v.gtValue(0));

/** A whole number of either sign. */
export const whole: Shape<number> = { suffix: '', schema: safeWhole, toPlain: (value) => value };
/** A count of at least `least`. */
export const countFrom = (least: number): Shape<number> => ({
  suffix: '',
  schema: v.pipe(safeWhole, v.minValue(least)),
  toPlain: (value) => value,
});
export const count = countFrom(0);
export const positiveNumber: Shape<number> = { suffix: '', schema: above, toPlain: (value) => value };
/** A text; half a character in one of ours becomes a replacement character, so that it is never refused when it is saved. */
export const string: Shape<string> = {
  suffix: '',
  schema: text,
  toPlain: (value) => value.replace(/\p{Cs}/gu, '\ufffd'),
};
export const flag: Shape<boolean> = { suffix: '', schema: v.boolean(), toPlain: (value) => value };
export const anyLength: Shape<Length> = {
  suffix: 'Mm',
  schema: v.pipe(millimetres, v.transform(mm)),
  toPlain: (value) => value,
};
/** A length above zero. */
export const positiveLength: Shape<Length> = {
  suffix: 'Mm',
  schema: v.pipe(millimetres, v.gtValue(0), v.transform(mm)),
  toPlain: (value) => value,
};
/** A length of zero or more. */
export const unsignedLength: Shape<Length> = {
  suffix: 'Mm',
  schema: v.pipe(millimetres, v.minValue(0), v.transform(mm)),
  toPlain: (value) => value,
};
export const time: Shape<Millis> = {
  suffix: 'Ms',
  schema: v.pipe(within(LATEST_MS), v.transform(millis)),
  toPlain: (value) => value,
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

/** One of some words. */
export const word = <const W extends string>(...words: readonly W[]): Shape<W> => ({
  suffix: '',
  schema: v.picklist(words),
  toPlain: (value) => value,
});

export const nullable = <T>(shape: Shape<T>): Shape<T | null> => ({
  suffix: shape.suffix,
  schema: v.nullable(shape.schema),
  toPlain: (value) => (value === null ? null : shape.toPlain(value)),
});

export const list = <T>(shape: Shape<T>): Shape<readonly T[]> => ({
  suffix: shape.suffix,
  schema: v.array(shape.schema),
  toPlain: (values) => values.map((value) => shape.toPlain(value)),
});

export const optional = <T>(shape: Shape<T>): OptionalShape<T> => ({
  suffix: shape.suffix,
  schema: shape.schema,
  toPlain: (value) => shape.toPlain(value),
  optional: true,
});

type IsOptional<T, K extends keyof T> = Record<never, never> extends Pick<T, K> ? true : false;

/** A shape for every field of T: a new field in core doesn't compile until it has one here. */
export type Fields<T> = {
  readonly [K in keyof T]-?: IsOptional<T, K> extends true
    ? OptionalShape<Exclude<T[K], undefined>>
    : Shape<T[K]>;
};

interface Field {
  readonly name: string;
  readonly key: string;
  readonly shape: Shape<unknown> | OptionalShape<unknown>;
}

const fieldsOf = (fields: object): readonly Field[] =>
  Object.entries(fields).map(([name, shape]: [string, Shape<unknown>]) => ({
    name,
    key: name + shape.suffix,
    shape,
  }));

const schemaOf = ({ shape }: Field): v.GenericSchema<unknown> =>
  'optional' in shape ? v.optional(shape.schema) : shape.schema;

/** An object with known fields; unknown fields pass the check and are kept. */
export const record = <T extends object>(fields: Fields<T>): Shape<T> => recordOf<T>(fields);

function recordOf<T extends object>(fields: object): Shape<T> {
  const known = fieldsOf(fields);
  const entries = Object.fromEntries(known.map((field) => [field.key, schemaOf(field)]));
  const named = (plain: Readonly<Record<string, unknown>>): T =>
    // The one cast of the codec: `fields` names exactly the keys of T, each with its own check.
    Object.fromEntries(
      known.filter(({ key }) => plain[key] !== undefined).map(({ key, name }) => [name, plain[key]]),
    ) as T;
  return {
    suffix: '',
    schema: v.pipe(v.looseObject(entries), v.transform(named)),
    toPlain: (value) => plainOf(known, value),
  };
}

function plainOf(known: readonly Field[], value: object): Plain {
  const values = new Map<string, unknown>(Object.entries(value));
  const plain: Record<string, Plain> = {};
  for (const { name, key, shape } of known) {
    const held = values.get(name);
    if (held !== undefined) plain[key] = shape.toPlain(held);
  }
  return plain;
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
