// What laws over generated input share: numbers in a range, and every number in an answer.
import fc from 'fast-check';

export const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Every number in an answer, but for what a refusal says it found. */
export function numbersIn(value: unknown): readonly number[] {
  if (typeof value === 'number') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => (key === 'found' ? [] : numbersIn(inner)));
}
