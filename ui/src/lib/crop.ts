import type { Circle } from '$/bridge/types';

/** How a picture lies in a square view, so that its circle has a given place and size: all plugs
 * side by side at one scale. In parts of the view's side. */
export interface Crop {
  left: number;
  top: number;
  width: number;
  height: number;
}

/** At zoom 1 the insulator's radius is this part of the view's side: the shell shows around it. */
const RADIUS_SHARE = 0.2;

export function cropOf(size: { width: number; height: number }, circle: Circle, zoom: number): Crop {
  const scale = (RADIUS_SHARE * zoom) / Math.max(circle.radius_px, 1);
  return {
    left: 0.5 - circle.x_px * scale,
    top: 0.5 - circle.y_px * scale,
    width: size.width * scale,
    height: size.height * scale,
  };
}

export const ZOOM = { least: 0.6, most: 4 } as const;

export function zoomed(zoom: number, by: number): number {
  return Math.min(ZOOM.most, Math.max(ZOOM.least, zoom * by));
}

/** Keeps a circle inside its picture, and large enough to measure. */
export function circleIn(circle: Circle, size: { width: number; height: number }): Circle {
  const most = Math.min(size.width, size.height) / 2;
  const radius_px = Math.min(most, Math.max(8, circle.radius_px));
  const within = (at: number, end: number): number =>
    Math.min(end - radius_px, Math.max(radius_px, at));
  return {
    x_px: within(circle.x_px, size.width),
    y_px: within(circle.y_px, size.height),
    radius_px,
  };
}
