/** The photograph beside what the open setup foretells, both stretched alike. */
import { Refusal } from "../../quantity/refusal.ts";
import { forecast } from "../../setup/index.ts";
import { signedView, stretched } from "./grey.ts";
import { frameOf, openSetup } from "./open-frames.ts";
import type { CompareRequest, Comparison } from "./protocol.ts";

export async function compare(request: CompareRequest): Promise<Comparison> {
  const setup = openSetup(request.setup);
  const photograph = await frameOf(request.hot);
  const { columns, rows } = setup.camera;
  if (photograph.columns !== columns || photograph.rows !== rows)
    throw new Refusal({
      code: "frame-size",
      field: request.hot.name,
      received: `${photograph.columns} × ${photograph.rows} pixels`,
      expected: `a picture of the setup's camera, ${columns} × ${rows} pixels, to be laid over the forecast`,
    });
  const seen = stretched(photograph);
  const foretold = stretched(forecast(setup).frame);
  return {
    forecast: {
      columns,
      rows,
      grey: Uint8Array.from(foretold, (value) => Math.round(255 * value)),
      kind: "light",
    },
    // A square root, so that small differences are seen beside large ones.
    difference: signedView({ columns, rows }, (i) => {
      const more = seen[i] - foretold[i];
      return Math.sign(more) * Math.sqrt(Math.abs(more));
    }),
  };
}
