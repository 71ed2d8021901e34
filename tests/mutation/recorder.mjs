// What the tests import as vitest in a mutation run: their tests are written down, to be run again for every mutant; expect is vitest's own.
import * as matchers from '@vitest/expect';
import { spyOn } from '@vitest/spy';

const { chai } = matchers;
chai.use(matchers.JestExtend);
chai.use(matchers.JestChaiExpect);
chai.use(matchers.JestAsymmetricMatchers);

export const expect = Object.assign((value, message) => chai.expect(value, message), chai.expect);
Object.assign(expect, globalThis[matchers.ASYMMETRIC_MATCHERS_OBJECT]);
matchers.setState({ assertionCalls: 0 }, expect);
globalThis[matchers.GLOBAL_EXPECT] = expect;
export const vi = { spyOn };

const suite = (name, parent) => ({ name, parent, beforeAll: [], beforeEach: [], afterEach: [] });
let open = suite('', null);
/** What is to be done when the test that runs now has ended; none runs while a file is loaded, and asking then throws. */
let finishing;

/** Every test, in order, with its suite. */
export const recorded = [];
/** What is to be done once, when no test is run any more. */
export const leaving = [];

/** Begins a file: its tests and its hooks are its own. */
export function beginFile(file) {
  open = suite(file, null);
}

const callback = (args) => args.find((one) => typeof one === 'function');
const each =
  (of) =>
  (rows) =>
  (name, ...rest) => {
    rows.forEach((row, index) => {
      const args = Array.isArray(row) ? row : [row];
      of(`${name} [${index}]`, () => callback(rest)(...args));
    });
  };

export function test(name, ...rest) {
  recorded.push({ name, run: callback(rest), suite: open });
}
test.each = each(test);

export function describe(name, ...rest) {
  const outer = open;
  open = suite(name, outer);
  callback(rest)();
  open = outer;
}
describe.each = each(describe);

const hook = (kind) => (run) => void open[kind].push(run);
export const beforeAll = hook('beforeAll');
export const beforeEach = hook('beforeEach');
export const afterEach = hook('afterEach');
export const afterAll = (run) => void leaving.push(run);
export const onTestFinished = (run) => void finishing.push(run);

const chain = (of) => (of ? [...chain(of.parent), of] : []);
export const idOf = ({ name, suite: of }) => [...chain(of).map((one) => one.name), name].join(' > ');

/** Runs one test with every hook around it, and says what it threw; null when it passed. */
export async function runOne({ run, suite: of }) {
  const around = chain(of);
  finishing = [];
  try {
    for (const one of around) for (const before of [...one.beforeAll, ...one.beforeEach]) await before();
    await run();
    return null;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  } finally {
    for (const one of finishing) await one();
    finishing = undefined;
    for (const one of around.toReversed()) for (const after of one.afterEach) await after();
  }
}
