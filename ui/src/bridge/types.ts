/** The shapes that pass between the window and the core: made from the core's own types. Here is
 * only the door through which the screens take them. */
export type * from './generated/core';
