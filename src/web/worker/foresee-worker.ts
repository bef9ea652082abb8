import { foresee } from "./foresee.ts";
import type { ForeseeRequest } from "./protocol.ts";
import { serveRequests } from "./serve.ts";

serveRequests<ForeseeRequest>("foresee", foresee);
