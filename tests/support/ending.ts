// What is done once a test has ended. A benchmark uses the same support, ends by itself, and does without the test framework.
const vitest = process.env.VITEST ? await import('vitest') : undefined;

/** Has this done when the test that runs now has ended, or else its file. */
export function whenTestEnds(work: () => unknown): void {
  // Each of these throws outside of a test or a file of tests.
  for (const atEnd of vitest ? [vitest.onTestFinished, vitest.afterAll] : [])
    try {
      atEnd(async () => void (await work()));
      return;
    } catch {}
}
