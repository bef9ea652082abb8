/** Order of alignment, with what the camera shows at each step. */
import type { Setup } from "../setup/index.ts";
import { type RunPicture, runPicture } from "./run-pictures.ts";
import { nm } from "./words.ts";

export interface RunStep {
  readonly text: string;
  /** what should be seen */
  readonly see?: string;
  readonly picture?: { readonly caption: string; readonly image: RunPicture };
}

/** Slope of the badly aligned slit in its picture, rad. */
const ASKEW = 0.04;
/** Opened slits fill these shares of the sensor's height and width. */
const OPEN = { height: 0.5, width: 0.3 } as const;

/** What the light goes by, by kind of vessel. */
const AXIS = {
  tube: "the tube's axis",
  cell: "the cell's middle",
  flame: "the beam through the flame",
  prism: "the prism's middle",
} as const;

/** The vessel's own step, by kind of vessel. */
const VESSEL_IN = {
  tube: {
    text: "Tube in, empty and cold.",
    see: "The cold line stays straight and where it was: bent windows show here.",
  },
  cell: {
    text: "Cell in, cold, in its oven.",
    see: "The cold line stays straight and where it was: bent windows show here.",
  },
  flame: {
    text: "Burner in place, unlit; then lit without salt.",
    see: "The line stays where it was, unlit; lit, it dances by no more than its own thickness, or the burner stands too near or in a draught.",
  },
  prism: {
    text: "Prism in, with the solvent alone, edge level; turn the bench behind it until the line stands in the middle again.",
    see: "The line leans a little from end to end, as the solvent disperses; it stays thin: bent walls show here.",
  },
} as const;

export function alignment(setup: Setup): RunStep[] {
  const { path, camera } = setup;
  const enlarged = path.cameraFocalLength / path.secondCollimatorFocalLength;
  const relayed = (enlarged * path.focalLength) / path.collimatorFocalLength;
  const tall = (OPEN.height * camera.rows * camera.pixel) / relayed;
  const wide = (OPEN.width * camera.columns * camera.pixel) / enlarged;
  const opened: Setup = { ...setup, path: { ...path, levelSlit: tall, plumbSlit: wide } };
  const level: Setup = { ...setup, path: { ...path, plumbSlit: wide } };
  const askew: Setup = { ...setup, path: { ...path, levelSlitTilt: path.levelSlitTilt + ASKEW } };
  return [
    {
      text: `Lamp only: both slits wide open, the lamp imaged on the level slit, everything at the height of ${AXIS[setup.vessel.contents?.kind ?? "tube"]}.`,
      see: "An even bright patch that the prism draws out into colours without any line in them.",
      picture: { caption: "lamp only, slits open", image: runPicture(opened, true) },
    },
    {
      text: "First slit level: close the level slit to its width and set it level against a spirit level.",
      see: "The patch shrinks to a level bar, its colours still over each other.",
      picture: { caption: "first slit level, second open", image: runPicture(level, true) },
    },
    {
      text: "Image of the level slit sharp on the plumb slit, found with a card.",
      see: "A thin bright line across the plumb slit.",
    },
    {
      text: "Second slit plumb: close the plumb slit to its width and turn it square to the level slit, within 2 mrad.",
      see: "If the level slit leans, the cold line climbs along the spectrum: turn it until it runs level.",
      picture: {
        caption: `not yet: slit leaning by ${Math.round(1000 * ASKEW)} mrad`,
        image: runPicture(askew, true),
      },
    },
    {
      text: `Disperser so that ${nm(path.centreWavelength)} nm (vacuum) falls on the middle of the picture; check with a line lamp.`,
      see: "Sharp lines of the line lamp over the whole height; note their columns.",
    },
    {
      text: "Camera's rows along the cold line, focus on the working colour.",
      see: "One thin level line, equally sharp from end to end.",
      picture: { caption: "cold line", image: runPicture(setup, true) },
    },
    VESSEL_IN[setup.vessel.contents?.kind ?? "tube"],
  ];
}
