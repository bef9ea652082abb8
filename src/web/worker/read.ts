import type { PhotoReading, ReadRequest } from "./protocol.ts";
export function readPhotographs(_request: ReadRequest): Promise<PhotoReading> {
  return Promise.reject(new Error("not yet"));
}
