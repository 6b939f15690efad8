/** How a cylinder stands, as shape and colour. The word that goes with it is in `words`. */
export type MarkShape = 'open' | 'read' | 'good' | 'line' | 'odd' | 'out' | 'next';

/** The worst first: what a cylinder shows when several things are known of it. */
export const MARK_ORDER: readonly MarkShape[] = ['out', 'odd', 'line', 'good', 'read', 'open'];

/** The worst of several. */
export function worst(shapes: readonly MarkShape[]): MarkShape {
  return MARK_ORDER.find((shape) => shapes.includes(shape)) ?? 'open';
}
