// TOML files: changing one key of a file that a person wrote changes that key and nothing else.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { tableIn, withKey } from '../../src/kit/toml.ts';

const OWN = `# the long one, bought in spring
name = "vee 60"   # ground twice

angle = "60deg"# to the gauge
# tip = "flat 0.3mm" before grinding
tip = 'sharp'
proven = [
  "14 at 16tpi", # yew
  "12 at 1.5mm",
]

[shed]
shelf = 3 # tip = "no"
`;

const valuesOf = (text: string | undefined) => {
  const read = tableIn(text ?? '');
  return 'found' in read ? read.found : read;
};

test('a value changes in its line, and the comment behind it stays', () => {
  const changed = withKey(OWN, 'name', 'vee "sixty" # one');
  expect(changed).toBe(OWN.replace('"vee 60"   #', '"vee \\"sixty\\" # one"   #'));
  expect(withKey(OWN, 'angle', '55deg')).toBe(OWN.replace('"60deg"#', '"55deg"#'));
});

test('a value over several lines is replaced whole', () => {
  const changed = withKey(OWN, 'proven', ['15 at 16tpi']);
  expect(valuesOf(changed)).toMatchObject({ proven: ['15 at 16tpi'], tip: 'sharp', shed: { shelf: 3 } });
});

test('a new value goes under its own commented-out line, else before the first table', () => {
  const [shown, plain] = [
    withKey('# top-speed = 1\nname = "a"\n', 'top-speed', 8000),
    withKey(OWN, 'size', 2),
  ];
  expect(shown).toBe('# top-speed = 1\ntop-speed = 8000\nname = "a"\n');
  expect(plain).toBe(OWN.replace('[shed]', 'size = 2\n[shed]'));
});

test('removing a value leaves its comment; removing one that is not there changes nothing', () => {
  expect(withKey(OWN, 'name', undefined)).toBe(OWN.replace('name = "vee 60"   # ground', '# ground'));
  expect(withKey(OWN, 'tip', undefined)).toBe(OWN.replace("tip = 'sharp'\n", ''));
  expect(withKey(OWN, 'size', undefined)).toBe(OWN);
});

test('lines ended as on another system stay so', () => {
  expect(withKey('a = 1\r\nb = 2 # two\r\n', 'b', 3)).toBe('a = 1\r\nb = 3 # two\r\n');
});

test('a file that cannot be changed without touching more is left alone', () => {
  expect(withKey('name = "a"\nname = "b"\n', 'name', 'c')).toBeUndefined();
  expect(withKey('note = """\ntip = 1\n"""\n', 'tip', 'sharp')).toBeUndefined();
  expect(withKey('tip.kind = 1\n', 'tip', 'sharp')).toBeUndefined();
});

test('in any file a change changes one key, can be changed back, and keeps every comment', () => {
  const line = fc.oneof(
    fc.constant(''),
    fc.stringMatching(/^# [ -~]{0,20}$/),
    fc.constantFrom(
      'angle = 60 # a',
      'name = "x"',
      'diameter = "2\\"#"',
      'proven = ["a", "b"]',
      'top-speed=7#c',
    ),
  );
  const key = fc.constantFrom('angle', 'name', 'diameter', 'proven', 'top-speed', 'tip');
  fc.assert(
    fc.property(fc.array(line, { maxLength: 8 }), key, fc.string(), (lines, changed, value) => {
      const text = lines.join('\n');
      const before = valuesOf(text);
      fc.pre(!('trouble' in before));
      const after = withKey(text, changed, value);
      expect(valuesOf(after)).toEqual({ ...before, [changed]: value });
      for (const comment of lines.filter((each) => each.startsWith('#')))
        expect(after?.split('\n')).toContain(comment);
    }),
    { numRuns: 300 },
  );
});
