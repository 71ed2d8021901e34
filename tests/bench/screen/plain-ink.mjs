// The plain screen that ours is measured beside: default Ink, a default serial reader, the same big digits, nothing clever.
import { ReadlineParser } from '@serialport/parser-readline';
import { Box, render, Text } from 'ink';
import { createElement as h, useEffect, useState } from 'react';
import { SerialPort } from 'serialport';

const FACE = {
  0: ['█████', '█   █', '█   █', '█   █', '█████'],
  1: ['  █  ', ' ██  ', '  █  ', '  █  ', '█████'],
  2: ['█████', '    █', '█████', '█    ', '█████'],
  3: ['█████', '    █', '█████', '    █', '█████'],
  4: ['█   █', '█   █', '█████', '    █', '    █'],
  5: ['█████', '█    ', '█████', '    █', '█████'],
  6: ['█████', '█    ', '█████', '█   █', '█████'],
  7: ['█████', '    █', '    █', '    █', '    █'],
  8: ['█████', '█   █', '█████', '█   █', '█████'],
  9: ['█████', '█   █', '█████', '    █', '█████'],
  '.': ['     ', '     ', '     ', '     ', '  █  '],
};

const port = new SerialPort({ path: process.argv[2], baudRate: 115200 });
const lines = port.pipe(new ReadlineParser({ delimiter: '\n' }));

function Screen() {
  const [value, setValue] = useState('0.00');
  useEffect(() => {
    lines.on('data', (line) => {
      const [kind, , , text] = line.split(',');
      if (kind === 'DI') setValue(text);
    });
  }, []);
  const digits = [0, 1, 2, 3, 4].map((row) =>
    h(
      Box,
      { key: row },
      ...[...value].map((digit, at) =>
        h(Box, { key: at, marginRight: 1 }, h(Text, { color: 'green' }, FACE[digit]?.[row] ?? '     ')),
      ),
    ),
  );
  return h(
    Box,
    { flexDirection: 'column', width: 80, height: 22 },
    h(Text, { bold: true }, 'spigot'),
    h(Text, null, 'still to come off the diameter'),
    ...digits,
    h(Text, null, `diameter ${value} mm`),
    h(Text, { dimColor: true }, 'Turn it down, stop the lathe, and measure again.'),
    h(Text, { color: 'yellow' }, 'Stop the lathe before the jaws touch the work.'),
  );
}

render(h(Screen));
