import type { ForeseeRequest, Sight } from "./protocol.ts";
import { standIn } from "./stand-in.ts";
export function foresee(request: ForeseeRequest): Sight {
  return standIn(request);
}
