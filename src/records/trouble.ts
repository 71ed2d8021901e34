// What can go wrong with the records, as values, and the sentence for each: what was wrong, what was kept, what to do.

/** What could be read of a damaged database, and where it was put. */
export interface Salvage {
  readonly path: string;
  readonly jobs: number;
  readonly entries: number;
  readonly readings: number;
}

export type RecordsTrouble =
  | { readonly kind: 'read-only'; readonly path: string }
  | { readonly kind: 'disk-full'; readonly path: string }
  | { readonly kind: 'locked'; readonly path: string; readonly holder: string | null }
  | {
      readonly kind: 'damaged';
      readonly path: string;
      readonly detail: string;
      /** Where the damaged file now lies, untouched; null when it could not be moved. */
      readonly setAside: string | null;
      readonly salvage: Salvage | null;
    }
  | { readonly kind: 'newer'; readonly path: string; readonly found: number; readonly known: number }
  | { readonly kind: 'moved'; readonly path: string }
  | { readonly kind: 'bad-entry'; readonly reason: string }
  | { readonly kind: 'closed' }
  | { readonly kind: 'failed'; readonly path: string; readonly detail: string };

/** A value, or why there is none. */
export type Kept<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly trouble: RecordsTrouble };

export const kept = <T>(value: T): Kept<T> => ({ ok: true, value });
export const notKept = (trouble: RecordsTrouble): Kept<never> => ({ ok: false, trouble });

/** Carries trouble inside the adapter to its one catch; never leaves src/records. */
export class TroubleThrown extends Error {
  readonly trouble: RecordsTrouble;
  constructor(trouble: RecordsTrouble) {
    super(troubleText(trouble));
    this.trouble = trouble;
  }
}

const salvageText = (salvage: Salvage | null): string =>
  salvage === null
    ? 'Nothing could be read from it.'
    : `What could be read (${salvage.jobs} jobs, ${salvage.entries} entries, ${salvage.readings} readings) is in ${salvage.path}; ` +
      `"lidwright jobs import ${salvage.path}" brings it back.`;

function damagedText(trouble: Extract<RecordsTrouble, { kind: 'damaged' }>): string {
  const { path, detail, setAside, salvage } = trouble;
  const moved = setAside
    ? `It was set aside, unchanged, as ${setAside}. ${salvageText(salvage)}`
    : 'It was left where it is, unchanged. Make its folder writable and start again.';
  return `The job database ${path} is damaged (${detail}). ${moved}`;
}

/** The sentences for a person. Paths are as given by the system: make them safe before a terminal shows them. */
export function troubleText(trouble: RecordsTrouble): string {
  switch (trouble.kind) {
    case 'read-only':
      return `Nothing can be written to ${trouble.path}: the folder or file is read-only. Nothing was changed. Make it writable, or give another folder with --home.`;
    case 'disk-full':
      return `The disk that holds ${trouble.path} is full. Everything said to be saved is still there; the last entry is not. Free some space; it will be tried again.`;
    case 'locked':
      return `The job database ${trouble.path} is held by ${trouble.holder ?? 'another program'}. Nothing was changed. Close that program, or wait until it is done, and try again.`;
    case 'damaged':
      return damagedText(trouble);
    case 'newer':
      return `The job database ${trouble.path} was written by a newer lidwright (format ${trouble.found}, this one knows ${trouble.known}). It was left untouched. Update lidwright, or give another folder with --home.`;
    case 'moved':
      return `The job database ${trouble.path} was moved or removed while it was open. The last entry is not saved. Put it back, or start again for a new one.`;
    case 'bad-entry':
      return `An entry was refused: ${trouble.reason}. It is not saved; everything before it is.`;
    case 'closed':
      return 'The job database is closed. Start again.';
    case 'failed':
      return `The job database ${trouble.path} could not be used: ${trouble.detail}. Everything said to be saved is kept. Check the disk and the folder, and try again.`;
    default:
      return trouble satisfies never;
  }
}
