// The long fault suite's settings: `npm run faults`. Each file drives the built program, so one at a time.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/faults/**/*.suite.ts'],
    testTimeout: 300_000,
    hookTimeout: 60_000,
    maxWorkers: 1,
    passWithNoTests: false,
  },
});
