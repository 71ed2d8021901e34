// Waiting for a state without sleeping: whoever waits is asked again after each change.
export interface Changes {
  readonly changed: () => void;
  /** Settles as soon as this holds. */
  readonly until: (holds: () => boolean) => Promise<void>;
}

export function createChanges(): Changes {
  const waiting = new Set<() => void>();
  return {
    changed() {
      for (const look of waiting) look();
    },
    until: (holds) =>
      new Promise((resolve) => {
        const look = (): void => {
          if (!holds()) return;
          waiting.delete(look);
          resolve();
        };
        waiting.add(look);
        look();
      }),
  };
}
