// Paragraphs: the welcome, the help.

export interface Words {
  readonly paragraphs: readonly Paragraph[];
}

export interface Paragraph {
  readonly kind: 'title' | 'text' | 'key' | 'caution';
  /** The key's name, for a key. */
  readonly key?: string;
  readonly text: string;
  /** The same in a word or two, where there is little room; for keys. */
  readonly short?: string;
}
