// A table of names and values: what is known of a job, or what can be done.

export interface Table {
  readonly rows: readonly { readonly name: string; readonly value: string; readonly strong?: boolean }[];
}
