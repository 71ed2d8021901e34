// What the turner of the virtual bench is doing now.
import type { Length } from '../../core/units.ts';

export type Scene =
  | { readonly doing: 'rest' }
  | { readonly doing: 'close-jaws' }
  | { readonly doing: 'measure-hollow'; readonly where: 'mouth' | 'depth' }
  | { readonly doing: 'rock-bore' }
  | { readonly doing: 'cut-spigot'; readonly target: Length }
  | { readonly doing: 'touch-off' }
  | { readonly doing: 'feed-in'; readonly detents: number }
  | { readonly doing: 'trial' };
