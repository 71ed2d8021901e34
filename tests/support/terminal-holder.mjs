// Holds a terminal with a program in it, so that a test can kill the terminal. Sends the program's pid, then that it draws.
import { spawn } from '@lydell/node-pty';

const [file, ...args] = process.argv.slice(2);
const terminal = spawn(file, args, { name: 'xterm-256color' });
process.send({ pid: terminal.pid });
let seen = '';
const watching = terminal.onData((drawn) => {
  seen += drawn;
  if (!seen.includes('?1049h')) return;
  watching.dispose();
  terminal.onData(() => undefined);
  process.send({ drawing: true });
});
