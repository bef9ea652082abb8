/** Bytes of a kernel from its file's hexadecimal digits, two to a byte. */
export function kernelBytes(digits: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(digits.length / 2);
  for (let i = 0; i < bytes.length; i++) bytes[i] = Number.parseInt(digits.slice(2 * i, 2 * i + 2), 16);
  return bytes;
}
