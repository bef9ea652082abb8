/** Maps from the bench to the drawing. */
export interface Drawn {
  /** along the rail, m → px */
  readonly x: (z: number) => number;
  /** height seen from the side, m → px */
  readonly side: (y: number) => number;
  /** sideways seen from above, m → px */
  readonly top: (x: number) => number;
  /** px per metre of height, and of width */
  readonly up: number;
  readonly across: number;
}
