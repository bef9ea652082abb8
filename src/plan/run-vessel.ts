/** What the day's sheet says of a sealed cell and of a flame, where it differs from a tube. */
import { formatQuantity } from "../quantity/index.ts";
import type { Setup } from "../setup/index.ts";

export interface VesselLines {
  readonly gather: readonly string[];
  readonly interlocks: readonly string[];
  readonly stopNow: readonly string[];
  readonly cold: string;
  readonly coolDown: readonly string[];
  readonly label: string;
}

const THEN = "Then: heater off at the switch, step back, let it cool by itself. Never water.";

/** undefined for a tube, and for a prism, whose sheet is `solutionSheet` */
export function vesselLines(setup: Setup): VesselLines | undefined {
  const { contents } = setup.vessel;
  if (contents === undefined || contents.kind === "prism") return undefined;
  return contents.kind === "cell" ? cellLines(setup, contents.body) : flameLines(setup);
}

const mm = (length: number): string => formatQuantity(length, "m", { digits: 3 });
const celsius = (kelvin: number): string => `${Math.round(kelvin - 273.15)} °C`;

function cellLines({ vessel }: Setup, body: number): VesselLines {
  return {
    gather: [
      `sealed cell with ${vessel.element}, bore ${mm(vessel.bore)}, ${mm(vessel.length)} from window to window, never opened`,
      "oven with windows; thermocouples at the side arm, the body and each window; logger or this table",
    ],
    interlocks: [
      "Over-temperature cut-out apart from the controller: tested today by lowering its limit until it trips.",
      "Earth and residual-current breaker: test button pressed.",
      "Cell looked over cold: no crack, no scratch, no star in the glass or at a seam.",
      "Side arm proved the coolest place; metal lies there and not on a window.",
    ],
    stopNow: [
      `Cell above ${celsius(body + 20)} (20 K over the plan), or its side arm warmer than its body.`,
      "A window browned, crazed or wet; smoke, smell, hissing.",
      THEN,
    ],
    cold: "Cold: cell in place and cold; without it nobody can say where zero bend is.",
    coolDown: [
      "Oven off, door shut: the side arm must stay the coolest place, or metal settles on the windows.",
      "Write down the temperatures every ten minutes until the cell can be touched. It stays sealed.",
    ],
    label: `Label the cell: ${vessel.element}, date. A broken or unwanted one goes to the people licensed for its metal, never to sink or bin.`,
  };
}

function flameLines({ vessel }: Setup): VesselLines {
  return {
    gather: [
      `burner whose flame is ${mm(vessel.length)} deep along the light, its gas with regulator and flashback arrestor, hose inspected`,
      `salt of ${vessel.element} on its carrier or in its spray; hood that draws off the burnt gas`,
    ],
    interlocks: [
      "Gas tap within reach of both persons; hose and joints tried with soap water.",
      "Extractor on and proved; nothing that burns within a metre of the flame.",
    ],
    stopNow: [
      "The flame lifts off, strikes back, roars or turns sooty; smell of gas; the extractor stops.",
      "Then: shut the gas tap, air the room, step back. Gas is shut off at the tap, not blown out.",
    ],
    cold: "Without salt: flame burning clear, nothing moved; without it nobody can say where zero bend is.",
    coolDown: [
      "Salt off first, then the gas at the tap, then at the cylinder; let the flame burn the hose empty.",
      "The burner stays hot for half an hour: guard it and label it hot.",
    ],
    label: `Salt of ${vessel.element} goes back into its labelled jar.`,
  };
}
