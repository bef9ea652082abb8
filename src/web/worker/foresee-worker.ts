import { foresee } from "./foresee.ts";
import type { ForeseeRequest } from "./protocol.ts";
import { createScreen, type Screen } from "./screen.ts";
import { serveRequests } from "./serve.ts";

let screen: Screen | undefined;

serveRequests<ForeseeRequest>(
  "foresee",
  (request) => foresee(request, { screen }),
  (canvas) => {
    screen = createScreen(canvas);
  },
);
