// What every table of questions has, one row a question; the new-job form and the calibration of the feed are such tables.

/** `On` is what a row may look at. Each table adds how its answers are read, what is offered, and where they go. */
export interface Question<On> {
  /** What the screen says of it. */
  readonly asks: (on: On) => string;
  /** When it is asked, where that isn't plain. */
  readonly isAsked?: (on: On) => boolean;
}

/** The questions asked now, in the order of these keys. */
export const askedOf = <Key extends string, On>(
  keys: readonly Key[],
  rows: { readonly [key in Key]: Question<On> },
  on: On,
  isPlainlyAsked: (key: Key) => boolean = () => true,
): readonly Key[] => keys.filter((key) => rows[key].isAsked?.(on) ?? isPlainlyAsked(key));

/** A text with its last character erased; one that is only offered goes whole. */
export const erasedText = (text: string, isOffered = false): string =>
  isOffered ? '' : [...text].slice(0, -1).join('');
