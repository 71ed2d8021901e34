// The readers of values as schemas for the tables of a file.
import * as v from 'valibot';
import { type Parse, textOf } from './value.ts';

/** A schema that reads a scalar with a reader of core; its issue's message is what is accepted. */
export const read = <T>(parse: Parse<T>): v.GenericSchema<unknown, T> =>
  v.pipe(
    v.unknown(),
    v.rawTransform<unknown, T>(({ dataset, addIssue, NEVER }) => {
      const parsed = parse(textOf(dataset.value) ?? '');
      if (parsed.ok) return parsed.value;
      addIssue({ message: parsed.accepted });
      return NEVER;
    }),
  );

/** The same for a key that must be there: a missing one is refused as an empty text is. */
export const need = <T>(parse: Parse<T>) => v.optional(read(parse), '');

/** A schema for a list of texts, each read by `parse`; one text with commas is taken as such a list. */
export const readList = <T>(parse: Parse<T>): v.GenericSchema<unknown, readonly T[]> =>
  v.pipe(
    v.unknown(),
    v.transform((value) =>
      typeof value === 'string' ? value.split(',').filter((part) => part.trim()) : value,
    ),
    v.array(read(parse), 'a list of texts in square brackets'),
  );
