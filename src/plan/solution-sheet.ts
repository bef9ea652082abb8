/** The day's sheet of a prism with dye: nothing is heated, so it holds what to gather, how to align, fill and clear up. */
import { formatQuantity } from "../quantity/index.ts";
import type { Setup, SolutionInput } from "../setup/index.ts";
import type { PrismContents } from "../vessel/index.ts";
import type { HeatPlan } from "./heat-plan.ts";
import type { SheetParts } from "./sheet-parts.ts";

export function solutionSheet(
  setup: Setup,
  medium: SolutionInput,
  prism: PrismContents,
  incidence: number,
): SheetParts {
  const { camera } = setup;
  const { solution } = medium;
  const mm = (length: number): string => formatQuantity(length, "m", { digits: 3 });
  const degrees = (angle: number): string => formatQuantity(angle, "rad", { as: "deg", digits: 3 });
  const solvent = typeof solution.solvent === "number" ? "the solvent" : solution.solvent;
  const much = formatQuantity(solution.concentration, "mol.m-3", { as: "mmol/L", digits: 3 });
  return {
    gather: [
      `hollow prism of ${degrees(prism.apex)}, walls ${mm(prism.wallThickness)} thick, edge ${prism.edgeAbove ? "above" : "below"}; a tray under it`,
      `dye in ${solvent}, ${much}, and ${solvent} alone for the cold line; their safety data sheets`,
      `camera, ${camera.columns} × ${camera.rows} pixels of ${mm(camera.pixel)}, exposure ${formatQuantity(camera.exposure, "s", { digits: 3 })}, raw files, a line lamp`,
      "cuvette and spectrometer for the absorbance, or its table",
      "goggles and gloves as the data sheets say",
    ],
    interlocks: ["Lamp and mains apart from the liquid; the tray is dry."],
    stopNow: [
      "A leak, a crack, a smell of solvent that was not there before.",
      "Then: lamp off at the switch, take the prism out with its tray.",
    ],
    heating: [],
    heat: noHeat(prism.temperature),
    log: ["time", "temperature of the solution, °C", "filling", "frame", "initials"],
    photographs: [
      "Dark: light shut off, same exposure.",
      "Line lamp over the whole height of the plumb slit, for the wavelength scale.",
      `Prism with ${solvent} alone, turned to an incidence of ${degrees(incidence)}: this is the cold line, bent by the solvent's own dispersion.`,
      "Prism with dye, nothing moved: five frames one after another.",
      "Solvent alone again at the end: what has drifted.",
    ],
    coolDown: [],
    clearingUp: [
      "Lamp off and cooled; mains off.",
      "Empty and rinse the prism into the waste that the dye's data sheet names; label it.",
      "Frames and this sheet go into the notebook together; setup name and fingerprint as above.",
    ],
  };
}

function noHeat(temperature: number): HeatPlan {
  const level = { time: [0], bottom: [temperature], top: [temperature], ends: [temperature], power: [0] };
  return {
    basis: "rate",
    sentence: "Nothing is heated.",
    shell: null,
    target: { bottom: temperature, top: temperature, ends: temperature },
    ramp: 0,
    warm: level,
    settings: [],
    ready: 0,
    cool: level,
    cold: 0,
  };
}
