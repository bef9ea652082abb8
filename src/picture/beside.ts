/** Two pictures in one: where light of both falls, the brighter is seen. */
import { fits, reserve, type Stretch, type Workspace } from "./workspace.ts";

/**
 * Makes each pixel the brighter of its own light and `share` of the other picture's, rounded to single precision.
 * @param light as renderLight left it in the workspace; changed in place where the workspace has room for the other, else laid anew
 * @param other a picture of the same size that lies elsewhere
 * @param stretch pixels that need to be looked at, the other's `litStretch`; default all
 * @returns the light of both, in the workspace, where it stands until that is used again
 */
export function layBeside(
  light: Float32Array,
  other: Float32Array,
  share: number,
  space: Workspace,
  { first, end }: Stretch = { first: 0, end: light.length },
): Float32Array {
  const count = light.length;
  const wanted = { picture: count, beside: count };
  // What lies in the workspace is lost where that must grow.
  const kept = fits(space, wanted) ? light : light.slice();
  const { picture, beside } = reserve(space, wanted);
  if (kept !== light) picture.set(kept);
  const { kernel } = space;
  if (kernel !== undefined) {
    beside.set(other.subarray(first, end), first);
    kernel.brighter(picture.byteOffset + 4 * first, beside.byteOffset + 4 * first, end - first, share);
  } else {
    const { fround } = Math;
    const part = fround(share);
    for (let p = first; p < end; p++) {
      const own = fround(part * other[p]);
      if (own > picture[p]) picture[p] = own;
    }
  }
  return picture.subarray(0, count);
}
