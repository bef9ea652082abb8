/** Last minute of a warm-up that can be shown. */
export const LAST_MINUTE = 120;
