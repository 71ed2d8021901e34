// File names for equipment: made from the name's letters and digits alone, so that no name can reach outside its folder.

const MOST = 40;

/** `60° vee, large` becomes `60-vee-large`; a name without any plain letter or digit becomes `item`. */
export function slugOf(name: string): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, MOST)
    .replace(/^-+|-+$/g, '');
  return plain === '' ? 'item' : plain;
}

/** A file name for `name` that none of `taken` has. */
export function freeFileName(name: string, taken: readonly string[]): string {
  const slug = slugOf(name);
  for (let number = 1; ; number += 1) {
    const file = number === 1 ? `${slug}.toml` : `${slug}-${number}.toml`;
    if (!taken.includes(file)) return file;
  }
}

/** Two names that a person would take for the same. */
export const sameName = (a: string, b: string): boolean =>
  a.normalize('NFC').trim().toLowerCase() === b.normalize('NFC').trim().toLowerCase();
