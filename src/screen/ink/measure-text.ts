// Stands for Ink's own build/measure-text.js in the bundle: the same answer, without remembering every text for ever.
import { textWidth } from '../text.ts';

// biome-ignore lint/style/noDefaultExport: Ink imports the default
export default function measureText(text: string): { readonly width: number; readonly height: number } {
  if (text === '') return { width: 0, height: 0 };
  const lines = text.split('\n');
  return { width: Math.max(...lines.map(textWidth)), height: lines.length };
}
