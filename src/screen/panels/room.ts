// The room that a panel is given.

/** Drawn for so many rows, of which the upper ones are shown: what is drawn live keeps its scale when a message wants a row. */
export interface PanelRoom {
  readonly columns: number;
  readonly rows: number;
  readonly shown: number;
  /** Rows left blank above. */
  readonly gap: number;
}
