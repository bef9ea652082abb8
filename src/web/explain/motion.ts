/** What moves in an explaining view, so that a film can be made of it; called when one begins. */
export type Motion = () => Moving;

export interface Moving {
  /** puts the view where it stands at a share 0…1 of the film; drawn once this returns */
  readonly show: (share: number) => void;
  /** puts the view back as it was */
  readonly end: () => void;
}

/** A value between two ends at a share 0…1 of the way. */
export function between(from: number, to: number, share: number): number {
  return from + share * (to - from);
}
