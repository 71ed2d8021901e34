// A scene: what one moment at the bench has to say, as plain words and numbers. Scenes are decided in scenes/, drawn by screen.tsx.

import type { Bar } from './panels/bar.ts';
import type { FormModel, Jobs, Table } from './panels/lists.ts';
import type { Paragraphs } from './panels/paragraphs.ts';
import type { SectionModel } from './panels/section.ts';
import type { Trace } from './panels/trace.ts';
import type { Style } from './text.ts';

/** The one huge thing. */
export interface Big {
  /** Digits, or a word in capitals. */
  readonly text: string;
  readonly unit: string;
  /** What it is the number of. */
  readonly label: string;
  readonly style: Style;
}

/** The state: a shape and a word before any colour. */
export interface Standing {
  readonly mark: string;
  readonly word: string;
  readonly about: string;
  readonly style: Style;
}

/** A named figure beside the huge one. */
export interface Figure {
  readonly name: string;
  readonly value: string;
}

export type Panel =
  | ({ readonly kind: 'trace' } & Trace)
  | ({ readonly kind: 'bar' } & Bar)
  | ({ readonly kind: 'section' } & SectionModel)
  | ({ readonly kind: 'table' } & Table)
  | ({ readonly kind: 'paragraphs' } & Paragraphs)
  | ({ readonly kind: 'form' } & FormModel)
  | ({ readonly kind: 'jobs' } & Jobs);

export interface KeyHint {
  readonly key: string;
  readonly does: string;
}

/** What is typed at the moment, with the cursor behind it. */
export interface Typing {
  readonly asks: string;
  readonly text: string;
}

export interface Scene {
  readonly title: string;
  readonly big: Big | null;
  readonly standing: Standing | null;
  readonly facts: readonly Figure[];
  readonly panel: Panel | null;
  readonly next: string;
  readonly caution: string | null;
  readonly keys: readonly KeyHint[];
  readonly typing: Typing | null;
}

/** Shapes that tell the states apart without colour. */
export const MARKS = {
  open: '○',
  half: '◐',
  full: '●',
  under: '▼',
  alert: '▲',
  cross: '×',
  stale: '◇',
  next: '▸',
} as const;
