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
const ENDLESS = 2;
const ITS_FACTOR = 100;

const here = (path) => pathToFileURL(join(process.cwd(), 'tests', path)).href;

/**
 * Two changes to how modules are found: vitest is the recorder, and what a module of a later round imports is of that
 * round as well, so that the tests and the code they reach are loaded again for a mutant in what runs while loading.
 */
function changeResolving() {
  const hook = `const recorder = ${JSON.stringify(here('mutation/recorder.mjs'))};
  const own = ${JSON.stringify(pathToFileURL(process.cwd()).href)};
  export async function resolve(name, context, next) {
    if (name === 'vitest') return { url: recorder, shortCircuit: true };
    const found = await next(name, context);
    const round = /[?&]round=\\d+/.exec(context.parentURL ?? '')?.[0];
    const renewed = round && found.url.startsWith(own) && !found.url.includes('/node_modules/') && !found.url.includes('round=');
    return renewed ? { ...found, url: found.url + round.replace('&', '?') } : found;
  }`;
  register(`data:text/javascript,${encodeURIComponent(hook)}`);
}

/** The test files of the topics in MUTANT_TOPICS (separated by commas), or of all; first those of the topic that a source file belongs to. */
function chosenFiles(source = '') {
  const topics = JSON.parse(readFileSync(new URL(here('mutation/topics.json')), 'utf8'));
  const all = process.env.MUTANT_TOPICS?.split(',') ?? Object.keys(topics);
  const path = source.split('/src/').at(-1) ?? '';
  const wanted = all.toSorted((a, b) => Number(path.includes(b)) - Number(path.includes(a)));
  return [...new Set(wanted.flatMap((topic) => topics[topic]))].map((name) => `${name}.test.ts`);
}

class QuickTests {
  #tests = [];
  #took = new Map();
  /** For each file of the source, the test file that caught the last mutant in what it runs while loading. */
  #catchers = new Map();
  #recorder;
  #round = 0;

  capabilities() {
    return { reloadEnvironment: true };
  }

  async init() {
    process.env.VITEST = 'true'; // what the tests' support asks
    registerTypescript();
    changeResolving();
    this.#recorder = await import(here('mutation/recorder.mjs'));
    const { default: fc } = await import('fast-check');
    fc.configureGlobal({ seed: 7, endOnFailure: true });
  }

  async dispose() {
    for (const leave of this.#recorder.leaving) await leave();
  }

  /** Loads a file of tests and all it reaches, as far as this round has not loaded it yet. */
  async #load(file) {
    this.#recorder.beginFile(file);
    await import(`${here(file)}?round=${this.#round}`);
    return this.#recorder.recorded.splice(0).map((test) => ({ id: this.#recorder.idOf(test), test }));
  }

  async #loadAll() {
    this.#round += 1;
    const tests = [];
    for (const file of chosenFiles()) tests.push(...(await this.#load(file)));
    return tests;
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
    this.#tests = await this.#loadAll();
    const tests = [];
    for (const one of this.#tests) {
      switches.currentTestId = one.id;
      tests.push(await this.#run(one));
      switches.currentTestId = undefined;
    }
    return { status: 'complete', tests, mutantCoverage: switches.mutantCoverage };
  }

  /** The tests that reach a mutant (all, where none are named), the quickest first. */
  #reaching(tests, ids) {
    const took = ({ id }) => this.#took.get(id) ?? 0;
    const wanted = ids && new Set(ids);
    return tests.filter(({ id }) => !wanted || wanted.has(id)).toSorted((a, b) => took(a) - took(b));
  }

  /** Runs until the first failure; a mutant that is on while modules are loaded gets its own modules. */
  async mutantRun({ activeMutant, testFilter, hitLimit, mutantActivation }) {
    const isStatic = mutantActivation === 'static';
    if (this.#tests.length === 0 && !isStatic) this.#tests = await this.#loadAll();
    switches.activeMutant = activeMutant.id;
    switches.hitCount = hitLimit === undefined ? undefined : 0;
    switches.hitLimit = hitLimit === undefined ? undefined : (hitLimit / ITS_FACTOR) * ENDLESS + 1000;
    try {
      if (isStatic) return await this.#fileByFile(activeMutant.fileName);
      return await this.#untilFailure(this.#reaching(this.#tests, testFilter));
    } catch (error) {
      this.#recorder.recorded.splice(0);
      return { status: 'killed', killedBy: ['loading'], failureMessage: String(error), nrOfTests: 1 };
    } finally {
      switches.activeMutant = undefined;
    }
  }

  /** In its own round, the test file first that caught the last such mutant of this file. */
  async #fileByFile(source) {
    this.#round += 1;
    const hopeful = this.#catchers.get(source);
    const files = chosenFiles(source).toSorted((a, b) => Number(b === hopeful) - Number(a === hopeful));
    let nrOfTests = 0;
    for (const file of files) {
      const result = await this.#untilFailure(this.#reaching(await this.#load(file)));
      nrOfTests += result.nrOfTests ?? 0;
      if (result.status === 'survived') continue;
      this.#catchers.set(source, file);
      return { ...result, nrOfTests };
    }
    return { status: 'survived', nrOfTests };
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
