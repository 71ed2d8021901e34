// Types of what tests read from .build.mjs.
import type { BuildOptions, Plugin } from 'esbuild';

export function inkIn(how: { readonly replaced: boolean }): Plugin;
export const OPTIONS: BuildOptions;
