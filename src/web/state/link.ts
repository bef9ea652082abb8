/**
 * A bench as a link: everything that makes the view, squeezed into the part of the address behind "#", which a browser
 * never sends anywhere. `#bench=` + base64url(deflate-raw(JSON)).
 */
import type { Bench } from "./bench.ts";

const KEY = "bench=";
/** Largest text a link may unfold to, bytes: a bench is a few kilobytes. */
const LIMIT = 200_000;

export async function toHash(bench: Bench): Promise<string> {
  const squeezed = await through(
    new Blob([JSON.stringify(bench)]).stream().pipeThrough(new CompressionStream("deflate-raw")),
  );
  let binary = "";
  for (const byte of squeezed) binary += String.fromCharCode(byte);
  return `#${KEY}${btoa(binary).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "")}`;
}

/** The JSON a link carries; undefined where the address holds no bench. Throws a sentence where it is damaged. */
export async function fromHash(hash: string): Promise<unknown> {
  if (!hash.startsWith(`#${KEY}`)) return undefined;
  try {
    const text = hash
      .slice(KEY.length + 1)
      .replaceAll("-", "+")
      .replaceAll("_", "/");
    const bytes = Uint8Array.from(atob(text), (character) => character.charCodeAt(0));
    const json = await through(
      new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw")),
    );
    return JSON.parse(new TextDecoder().decode(json)) as unknown;
  } catch {
    throw new Error("The link is damaged or cut short; the bench that was open here is shown instead.");
  }
}

async function through(stream: ReadableStream<Uint8Array>): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  let length = 0;
  const reader = stream.getReader();
  for (let read = await reader.read(); !read.done; read = await reader.read()) {
    length += read.value.length;
    if (length > LIMIT) throw new Error("too long");
    parts.push(read.value);
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
