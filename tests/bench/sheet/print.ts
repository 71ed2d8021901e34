// Prints every invented job with a browser and says how many pages it took on Letter and on A4, and how much of the page is left:
// `npx tsx tests/bench/sheet/print.ts chromium [folder]`. By hand, where there is a browser; the PDFs are kept in the folder.
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { sheetPage } from '../../../src/sheet/page.ts';
import { freshFolder } from '../../support/fresh-folder.ts';
import { CASES, type Case } from '../../support/sheet-jobs.ts';

const [browser = 'chromium', kept] = process.argv.slice(2);
const folder = kept === undefined ? freshFolder() : resolve(kept);
const LETTER_HEIGHT = 279.4 - 20;

function run(profile: string, args: readonly string[]): string {
  const quiet = [
    '--headless',
    '--no-sandbox',
    '--disable-gpu',
    '--no-first-run',
    '--disable-background-networking',
  ];
  return execFileSync(browser, [...quiet, '--disable-sync', `--user-data-dir=${profile}`, ...args], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
}

/** A page object of the PDF that the browser writes; `/Pages` is their tree. */
const pagesIn = (pdf: string): number => readFileSync(pdf, 'latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;

function printed(profile: string, markup: string, path: string): number {
  writeFileSync(`${path}.html`, markup);
  run(profile, [`--print-to-pdf=${path}.pdf`, '--no-pdf-header-footer', `file://${path}.html`]);
  return pagesIn(`${path}.pdf`);
}

/** The height of what is on the page without the stretch of its notes, millimetres. */
function heightOf(profile: string, markup: string, path: string): number {
  const measure =
    '<script>document.title=document.querySelector("main").getBoundingClientRect().height</script>';
  writeFileSync(
    `${path}.html`,
    markup.replace('min-height:254mm', 'min-height:0').replace('</body>', `${measure}</body>`),
  );
  const dom = run(profile, ['--window-size=1000,1400', '--dump-dom', `file://${path}.html`]);
  rmSync(`${path}.html`);
  return (Number(/<title>([\d.]+)/.exec(dom)?.[1]) * 25.4) / 96;
}

function report({ name, job, unit }: Case): boolean {
  const profile = freshFolder();
  const path = join(folder, name.replace(/[ ,]+/g, '-'));
  const markup = sheetPage(job, unit, '2026-01-01');
  const letter = printed(profile, markup, path);
  const a4 = printed(profile, markup.replace('@page{', '@page{size:A4;'), `${path}-a4`);
  const left = LETTER_HEIGHT - heightOf(profile, markup, `${path}-height`);
  console.log(`${name}: ${letter} of Letter, ${a4} of A4, ${left.toFixed(0)} mm of Letter left`);
  return letter === 1 && a4 === 1;
}

mkdirSync(folder, { recursive: true });
const fitted = CASES.map(report);
process.exitCode = fitted.every(Boolean) ? 0 : 1;
