/** Buffers of the typed arrays inside an answer, each once: they are handed over instead of copied. */
export function buffersOf(value: unknown): ArrayBuffer[] {
  const found = new Set<ArrayBuffer>();
  const visit = (inner: unknown): void => {
    if (ArrayBuffer.isView(inner)) {
      if (inner.buffer instanceof ArrayBuffer) found.add(inner.buffer);
    } else if (Array.isArray(inner)) {
      // Arrays of the answers hold small records only; nothing large hides in them.
      return;
    } else if (typeof inner === "object" && inner !== null) {
      for (const child of Object.values(inner)) visit(child);
    }
  };
  visit(value);
  return [...found];
}
