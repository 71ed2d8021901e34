// Holds the far end of a pseudo-terminal for a test, in a separate process: the program under test would inherit it from
// the test, and unplugging would go unnoticed. Orders come as messages, and each is answered once it is done.
import { readFileSync, renameSync, rmSync, symlinkSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';
import { spawn } from '@lydell/node-pty';

/** Makes the near end raw, says so, and keeps it open until the far end goes: by another name, so that nobody finds the port in use. */
const NEAR_END = 'stty raw -echo && echo ready && exec sleep 2147483647 </dev/tty >/dev/tty 2>&1';
/** How often a file that is played is looked at. */
const BEAT_MS = 2;

const [link] = process.argv.slice(2);
let far;

/** A fresh pair, its near end behind a name that stays the same. Settles when that end is raw. */
function plug() {
  far = spawn('sh', ['-c', NEAR_END], { name: 'dumb', encoding: null });
  return new Promise((plugged) => {
    const ready = far.onData(() => {
      ready.dispose();
      far.onData((sent) => process.send({ sent }));
      symlinkSync(far.ptsName, `${link}.new`);
      renameSync(`${link}.new`, link);
      plugged();
    });
  });
}

function unplug() {
  rmSync(link, { force: true });
  const gone = new Promise((ended) => far.onExit(ended));
  far.destroy();
  far = undefined;
  return gone;
}

/** Settles when the kernel has taken all of it; waits while the line is full. Sends nothing where nothing is plugged in. */
const write = (bytes) =>
  new Promise((taken) => (far && bytes.length > 0 ? far._socket.write(bytes, taken) : taken()));

async function play({ everyMs, parts }) {
  for (const part of parts) {
    await write(part);
    await pause(everyMs);
  }
}

/** Sends a file's lines at an even pace, a few at a time, and never faster than asked. */
async function playFile({ file, perSecond }) {
  const lines = readFileSync(file, 'latin1').match(/.*\n/g);
  const began = performance.now();
  for (let sent = 0; sent < lines.length; await pause(BEAT_MS)) {
    const due = Math.floor(((performance.now() - began) / 1000) * perSecond) + 1;
    await write(Buffer.from(lines.slice(sent, due).join(''), 'latin1'));
    sent = Math.max(sent, Math.min(due, lines.length));
  }
}

const ORDERS = {
  plug,
  unplug,
  write: ({ bytes }) => write(bytes),
  'write-file': ({ file }) => write(readFileSync(file)),
  play,
  'play-file': playFile,
  async 'write-unplug'({ bytes }) {
    await write(bytes);
    await unplug();
  },
};

let turn = Promise.resolve();
process.on('message', (order) => {
  turn = turn.then(() => ORDERS[order.kind](order)).then(() => process.send({ done: true }));
});
process.on('disconnect', () => process.exit());
