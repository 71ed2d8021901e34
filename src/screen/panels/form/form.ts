// The new-job form as shown: each field with what is in it, the one stood on, and what it takes.

export interface FormField {
  readonly name: string;
  readonly value: string;
  /** Chosen from a list rather than typed. */
  readonly choice: boolean;
}

export interface FormModel {
  readonly fields: readonly FormField[];
  readonly at: number;
  readonly hint: string;
  readonly error: string | null;
}
