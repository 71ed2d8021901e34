// Waiting for a state without sleeping: whoever waits is asked again after each change.
export function createChanges() {
  const waiting = new Set<() => void>();
  return {
    changed(): void {
      for (const look of waiting) look();
    },
    /** Settles as soon as this holds. */
    until: (holds: () => boolean) =>
      new Promise<void>((resolve) => {
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
