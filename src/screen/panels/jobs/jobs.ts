// The list of jobs as shown: the newest first, the one stood on marked.

export interface JobRow {
  readonly name: string;
  readonly stage: string;
  readonly when: string;
  readonly closed: boolean;
}

export interface Jobs {
  readonly rows: readonly JobRow[];
  readonly at: number;
}
