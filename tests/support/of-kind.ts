// Narrows an answer to the kind that a test expects.
/** The answer, which must be of this kind: any other fails the test, and says what it was. */
export function ofKind<T extends { readonly kind: string }, K extends T['kind']>(
  kind: K,
  found: T | null | undefined,
): Extract<T, { readonly kind: K }> {
  if (found?.kind !== kind) throw new Error(`not ${kind} but ${JSON.stringify(found)}`);
  return found as Extract<T, { readonly kind: K }>;
}
