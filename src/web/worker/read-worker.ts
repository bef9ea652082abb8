import type { ReadRequest } from "./protocol.ts";
import { readPhotographs } from "./read.ts";
import { serveRequests } from "./serve.ts";

serveRequests<ReadRequest>("read", readPhotographs);
