// The test runner's settings: every tier runs in one command, on two workers.
import { defineConfig } from 'vitest/config';

const shared = {
  root: new URL('..', import.meta.url).pathname,
  testTimeout: 60_000,
  hookTimeout: 60_000,
};

export default defineConfig({
  test: {
    maxWorkers: 2,
    passWithNoTests: false,
    projects: [
      // Nothing in these files outlives its test, so they share one load of the source: a third of the processor time.
      {
        test: {
          ...shared,
          name: 'pure',
          include: ['tests/{unit,property,published}/**/*.test.ts'],
          pool: 'threads',
          isolate: false,
        },
      },
      {
        test: {
          ...shared,
          name: 'program',
          include: ['tests/{contract,screen,firmware,whole}/**/*.test.ts'],
        },
      },
    ],
  },
});
