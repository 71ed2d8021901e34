// Folders that tests make: nothing of them is left when the test has ended.
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { freshFolder } from '../support/fresh-folder.ts';

let made = '';

test('a folder is there for its test', () => {
  made = freshFolder();
  writeFileSync(join(made, 'a note'), '');
  expect(existsSync(made)).toBe(true);
});

test('it is gone after that test', () => {
  expect(made).not.toBe('');
  expect(existsSync(made)).toBe(false);
});
