import type { Attachment } from 'svelte/attachments';

/** Two fingers on an element, or a wheel with Ctrl as touch pads send it: by how much they spread.
 * One finger is left to scrolling. */
export function pinch(spread: (by: number) => void): Attachment<HTMLElement> {
  return (element) => {
    const at = new Map<number, { x: number; y: number }>();
    const apart = (): number => {
      const [one, other] = [...at.values()];
      return one && other ? Math.hypot(one.x - other.x, one.y - other.y) : 0;
    };
    const down = (event: PointerEvent): void => {
      at.set(event.pointerId, { x: event.clientX, y: event.clientY });
    };
    const move = (event: PointerEvent): void => {
      if (!at.has(event.pointerId)) return;
      const before = apart();
      at.set(event.pointerId, { x: event.clientX, y: event.clientY });
      if (at.size === 2 && before > 0) spread(apart() / before);
    };
    const up = (event: PointerEvent): void => void at.delete(event.pointerId);
    const wheel = (event: WheelEvent): void => {
      if (!event.ctrlKey) return;
      event.preventDefault();
      spread(Math.exp(-event.deltaY / 200));
    };
    element.addEventListener('pointerdown', down);
    element.addEventListener('pointermove', move);
    element.addEventListener('pointerup', up);
    element.addEventListener('pointercancel', up);
    element.addEventListener('wheel', wheel, { passive: false });
    return () => {
      element.removeEventListener('pointerdown', down);
      element.removeEventListener('pointermove', move);
      element.removeEventListener('pointerup', up);
      element.removeEventListener('pointercancel', up);
      element.removeEventListener('wheel', wheel);
    };
  };
}
