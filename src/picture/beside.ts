/** Two pictures in one: where light of both falls, the brighter is seen. */
import { fits, reserve, type Workspace } from "./workspace.ts";

/**
 * Makes each pixel the brighter of its own light and `share` of the other picture's, rounded to single precision.
 * @param light as renderLight left it in the workspace; changed in place where the workspace has room for the other, else laid anew
 * @param other a picture of the same size that lies elsewhere
 * @returns the light of both, in the workspace, where it stands until that is used again
 */
export function layBeside(
  light: Float32Array,
  other: Float32Array,
  share: number,
  space: Workspace,
): Float32Array {
  const count = light.length;
  const wanted = { picture: count, beside: count };
  // What lies in the workspace is lost where that must grow.
  const kept = fits(space, wanted) ? light : light.slice();
  const { picture, beside } = reserve(space, wanted);
  if (kept !== light) picture.set(kept);
  const { kernel } = space;
  if (kernel !== undefined) {
    beside.set(other);
    kernel.brighter(picture.byteOffset, beside.byteOffset, count, share);
  } else {
    const { fround } = Math;
    const part = fround(share);
    for (let p = 0; p < count; p++) {
      const own = fround(part * other[p]);
      if (own > picture[p]) picture[p] = own;
    }
  }
  return picture.subarray(0, count);
}
