// The facts of calipers, cutters and feeds as flags.
import { KIND_WORDS, KINDS } from '../../kit/item-file.ts';
import type { OptionSpec } from '../command.ts';

/** Every fact of every kind as a flag; `also` are words accepted beside a fact's own. */
export const factOptions = (also: readonly string[] = []): readonly OptionSpec[] =>
  KIND_WORDS.flatMap((word) =>
    Object.entries(KINDS[word].facts).map(([key, { about, placeholder, choices }]) => {
      const option = { flags: `--${key} <${placeholder}>`, about: `${word}: ${about}` };
      return choices ? { ...option, choices: [...choices, ...also] } : option;
    }),
  );
