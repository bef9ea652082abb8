/** Ends of an axis that hold all values with a little room; never of zero width. */
export function rangeOf(values: readonly number[]): { readonly from: number; readonly to: number } {
  const least = Math.min(...values);
  const most = Math.max(...values);
  const room = Math.max((most - least) * 0.1, Math.abs(most) * 0.02, 1e-300);
  return { from: least - room, to: most + room };
}
