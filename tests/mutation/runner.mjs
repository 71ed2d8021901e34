// A test runner for the mutation tester: it loads the quick tests of core and wire once in one process, and runs for each mutant those that reach it.
// A fresh test process for each of some thousand mutants would cost many times what the tests themselves do.
import { readFileSync } from 'node:fs';
import { register } from 'node:module';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { pathToFileURL } from 'node:url';
import { register as registerTypescript } from 'tsx/esm/api';

/** What the mutated code reads and writes: which mutant is on, and how often it was reached. */
globalThis.__stryker__ ??= {};
const switches = globalThis.__stryker__;
const SUCCESS = 0;
const FAILED = 1;
/** A mutant reached this many times as often as the code it stands for runs without end; the mutation tester's own factor is 100. */
const ENDLESS = 5;
const ITS_FACTOR = 100;

const here = (path) => pathToFileURL(join(process.cwd(), 'tests', path)).href;

function renameVitest() {
  const recorder = JSON.stringify(here('mutation/recorder.mjs'));
  const hook = `export const resolve = (name, context, next) =>
    name === 'vitest' ? { url: ${recorder}, shortCircuit: true } : next(name, context);`;
  register(`data:text/javascript,${encodeURIComponent(hook)}`);
}

/** The test files of the topics in MUTANT_TOPICS (parted by commas), or of all. */
function chosenFiles() {
  const topics = JSON.parse(readFileSync(new URL(here('mutation/topics.json')), 'utf8'));
  const wanted = process.env.MUTANT_TOPICS?.split(',') ?? Object.keys(topics);
  return [...new Set(wanted.flatMap((topic) => topics[topic]))].map((name) => `${name}.test.ts`);
}

class QuickTests {
  #tests = [];
  #took = new Map();
  #recorder;

  capabilities() {
    return { reloadEnvironment: false };
  }

  async init() {
    renameVitest();
    registerTypescript();
    this.#recorder = await import(here('mutation/recorder.mjs'));
    const { default: fc } = await import('fast-check');
    fc.configureGlobal({ seed: 7, endOnFailure: true });
  }

  async dispose() {
    for (const leave of this.#recorder.leaving) await leave();
  }

  async #load() {
    if (this.#tests.length > 0) return;
    for (const file of chosenFiles()) {
      this.#recorder.beginFile(file);
      await import(here(file));
    }
    this.#tests = this.#recorder.recorded.map((test) => ({ id: this.#recorder.idOf(test), test }));
  }

  async #run({ id, test }) {
    const began = performance.now();
    const failureMessage = await this.#recorder.runOne(test);
    const timeSpentMs = performance.now() - began;
    if (!this.#took.has(id)) this.#took.set(id, timeSpentMs);
    const result = { id, name: id, timeSpentMs };
    return failureMessage === null
      ? { ...result, status: SUCCESS }
      : { ...result, status: FAILED, failureMessage };
  }

  async dryRun() {
    await this.#load();
    const tests = [];
    for (const one of this.#tests) {
      switches.currentTestId = one.id;
      tests.push(await this.#run(one));
      switches.currentTestId = undefined;
    }
    return { status: 'complete', tests, mutantCoverage: switches.mutantCoverage };
  }

  /** The tests that reach a mutant, the quickest first. */
  #reaching(ids) {
    const took = ({ id }) => this.#took.get(id) ?? 0;
    const wanted = ids && new Set(ids);
    return this.#tests.filter(({ id }) => !wanted || wanted.has(id)).toSorted((a, b) => took(a) - took(b));
  }

  /** Runs until the first failure. */
  async mutantRun({ activeMutant, testFilter, hitLimit, mutantActivation }) {
    if (mutantActivation === 'static') switches.activeMutant = activeMutant.id;
    await this.#load();
    switches.activeMutant = activeMutant.id;
    switches.hitCount = hitLimit === undefined ? undefined : 0;
    switches.hitLimit = hitLimit === undefined ? undefined : (hitLimit / ITS_FACTOR) * ENDLESS + 1000;
    const result = await this.#untilFailure(this.#reaching(testFilter));
    switches.activeMutant = undefined;
    return result;
  }

  async #untilFailure(tests) {
    let nrOfTests = 0;
    for (const one of tests) {
      const { status, id, failureMessage } = await this.#run(one);
      nrOfTests += 1;
      if (switches.hitCount > switches.hitLimit) return { status: 'timeout', reason: 'runs without end' };
      if (status === FAILED) return { status: 'killed', killedBy: [id], failureMessage, nrOfTests };
    }
    return { status: 'survived', nrOfTests };
  }
}

export const strykerPlugins = [{ kind: 'TestRunner', name: 'quick-tests', injectableClass: QuickTests }];
