/** Leaves only the red of a picture, RGBA, for a dark room. */
export function onlyRed(rgba: Uint8ClampedArray): void {
  const words = new Uint32Array(rgba.buffer, rgba.byteOffset, rgba.length / 4);
  for (let i = 0; i < words.length; i++) words[i] = words[i] & 0xff0000ff;
}
