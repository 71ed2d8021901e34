// Writes a picture of the real screen as SVG: the built program on its virtual bench, driven to a bore that agrees, or further.
// Usage: npx tsx tests/support/picture-of-bench.ts <file.svg> [bore|spigot]
import { writeFileSync } from 'node:fs';
import { freshFolder } from './fresh-folder.ts';
import { toSvg } from './look.ts';
import { Eye } from './terminal.ts';

const [file, moment = 'bore'] = process.argv.slice(2);
if (!file) throw new Error('give the file to write, such as bench.svg');

const eye = new Eye({ args: ['demo'], env: { LIDWRIGHT_HOME: freshFolder() } });
try {
  await eye.untilShown('to begin a job');
  eye.press('enter');
  await eye.untilShown('◆ new job');
  eye.type('Pear box');
  eye.press('tab');
  eye.type('pear');
  eye.type('\x1b[F');
  // The flash of the cue is over when the strip is back.
  await eye.until('a bore that agrees, and the strip', agreedWithStrip, 60_000);
  if (moment === 'spigot') {
    eye.press('enter');
    await eye.untilShown('KEPT', 60_000);
    eye.press('n');
    await eye.until(
      'near the target',
      (screen) => shows(screen, /NEAR {2}/) && shows(screen, /◆spigot/),
      120_000,
    );
  }
  writeFileSync(file, toSvg(eye.cells()));
} finally {
  await eye.close();
}

function shows(screen: readonly string[], pattern: RegExp): boolean {
  return screen.some((row) => pattern.test(row));
}

function agreedWithStrip(screen: readonly string[]): boolean {
  return shows(screen, /● STEADY/) && shows(screen, /◆bore size/);
}
