// The room that a panel is given.

/** A drawing is made for `rows` and its upper `shown` rows are shown: it keeps its scale when a message needs a row. */
export interface PanelRoom {
  readonly columns: number;
  readonly rows: number;
  readonly shown: number;
  /** Rows left blank above. */
  readonly gap: number;
}
