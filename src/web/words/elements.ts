/** What each thing on the bench is called, and which fields of the setup belong to it. */
import type { ElementId } from "../state/bench.ts";

export interface ElementWords {
  /** label in the drawing */
  readonly name: string;
  /** one sentence under its fields */
  readonly sentence: string;
  /** fields in the order in which they are shown */
  readonly fields: readonly string[];
  /** fields that are seldom touched, folded away under them */
  readonly finer?: readonly string[];
}

export const ELEMENT_WORDS: Readonly<Record<ElementId, ElementWords>> = {
  lamp: {
    name: "lamp",
    sentence: "White light without lines of its own makes the cleanest picture.",
    fields: ["path.source.kind", "path.source.temperature", "path.stray", "path.rail.lampToCondenser"],
    finer: [
      "path.otherLosses",
      "path.source.size",
      "path.source.bands",
      "path.source.spectrum",
      "path.source.radiance",
      "path.smoke",
      "path.smokeFlicker",
      "path.smokeTime",
    ],
  },
  condenser: {
    name: "condenser",
    sentence:
      "Images the lamp on the level slit. Where neither the lamp's size nor its own opening is given, the slit is taken as evenly lit.",
    fields: ["path.rail.condenserToSlit", "path.condenserDiameter"],
  },
  "level-slit": {
    name: "level slit",
    sentence: "Its image is what the vapour moves up and down: narrower is sharper in height, and darker.",
    fields: ["path.levelSlit", "path.levelSlitTilt"],
    finer: ["path.levelSlitOffset"],
  },
  collimator: {
    name: "collimator",
    sentence:
      "Sends the slit's light as a parallel beam through the tube; here the beam is stopped down and aimed.",
    fields: ["path.collimatorFocalLength", "path.beamHeight", "path.beamSize", "path.beamWidth"],
    finer: ["path.aperture", "path.collimatorKind"],
  },
  tube: {
    name: "vapour tube",
    sentence: "Hot metal below, cooler above: the vapour lies in layers and bends the light like a prism.",
    fields: [
      "medium.element",
      "vessel.bottom",
      "vessel.top",
      "vessel.heater.power",
      "vessel.heater.kind",
      "vessel.heater.topCooling",
      "vessel.bore",
      "vessel.heatedLength",
      "vessel.gas",
      "vessel.gasPressure",
      "vessel.charge",
    ],
    finer: [
      "path.rail.collimatorToTube",
      "path.rail.tubeToLens",
      "vessel.length",
      "vessel.ends",
      "vessel.hotStrip",
      "vessel.gasFilledAt",
      "vessel.tubeMaterial",
      "vessel.cooling",
      "vessel.windowMaterial",
      "vessel.windowThickness",
      "vessel.windowDiameter",
      "vessel.heater.efficiency",
      "vessel.heater.wallThickness",
      "vessel.heater.emissivity",
      "vessel.heater.room",
      "vessel.heater.insulation",
      "vessel.heater.insulationThickness",
      "vessel.heater.topFinArea",
      "vessel.heater.topAirSpeed",
      "vessel.heater.topCoolant",
      "vessel.heater.topFlow",
      "vessel.heater.topInlet",
      "vessel.heater.topConductance",
      "vessel.heater.endsCooling",
      "vessel.heater.endsFinArea",
      "vessel.heater.endsAirSpeed",
      "vessel.heater.endsCoolant",
      "vessel.heater.endsFlow",
      "vessel.heater.endsInlet",
      "vessel.heater.endsConductance",
      "medium.gasWidth",
      "medium.structure",
      "medium.pressureEquation",
      "vessel.kind",
      "vessel.thermocouples",
      "vessel.windowTemperature",
      "vessel.pathLength",
      "vessel.sideArm",
      "vessel.body",
      "vessel.cellGasPressure",
      "vessel.flameDensity",
      "vessel.flameTemperature",
      "vessel.flameWidth",
      "vessel.flameHeight",
      "medium.absorbance",
      "medium.samplePath",
      "medium.sampleConcentration",
      "medium.oscillators",
      "medium.concentration",
      "medium.solvent",
      "medium.solventIndex",
      "vessel.apex",
      "vessel.edge",
      "vessel.edgeDistance",
      "vessel.incidence",
      "vessel.wallGlass",
      "vessel.prismWall",
      "vessel.solutionTemperature",
      "path.tubeRoll",
      "path.windowWedge",
      "path.fog",
    ],
  },
  "focusing-lens": {
    name: "focusing lens",
    sentence: "Turns the deflection into a displacement at the plumb slit: focal length times angle.",
    fields: ["path.focalLength"],
    finer: [
      "path.lensDiameter",
      "path.lensKind",
      "path.lensShift",
      "path.lensGlass",
      "path.lensCrown",
      "path.lensFlint",
      "path.sharpAt",
    ],
  },
  "plumb-slit": {
    name: "plumb slit",
    sentence: "Cuts one column out of the level slit's image; its opening is the blur in wavelength.",
    fields: ["path.plumbSlit"],
    finer: ["path.plumbSlitOffset", "path.plumbSlitTilt", "path.plumbSlitLength"],
  },
  "second-collimator": {
    name: "collimator",
    sentence: "Makes the plumb slit's light parallel before it is dispersed.",
    fields: ["path.secondCollimatorFocalLength"],
  },
  disperser: {
    name: "disperser",
    sentence: "Spreads the colours sideways, so that one axis of the picture is wavelength.",
    fields: [
      "path.disperser.kind",
      "path.disperser.crown",
      "path.disperser.flint",
      "path.disperser.flintApex",
      "path.disperser.undeviated",
      "path.disperser.elements",
      "path.disperser.trains",
      "path.disperser.grooves",
      "path.disperser.order",
      "path.disperser.wavelengthPerLength",
    ],
    finer: [
      "path.rail.collimatorToDisperser",
      "path.rail.disperserToCamera",
      "path.disperser.glass",
      "path.disperser.apex",
      "path.disperser.table",
      "path.disperser.incidence",
      "path.disperser.efficiency",
      "path.disperser.turn",
    ],
  },
  "camera-lens": {
    name: "camera lens",
    sentence: "Makes the picture on the sensor: longer is larger, and dimmer.",
    fields: ["path.cameraFocalLength", "path.centreWavelength", "path.defocus"],
  },
  camera: {
    name: "camera",
    sentence: "Counts electrons: exposure and full well decide how the noise looks.",
    fields: [
      "camera.exposure",
      "camera.rate",
      "camera.pixel",
      "camera.columns",
      "camera.rows",
      "path.cameraRoll",
      "path.inverted",
    ],
    finer: [
      "camera.fullWell",
      "camera.readNoise",
      "camera.blackLevel",
      "camera.bitDepth",
      "camera.gamma",
      "camera.seed",
      "camera.rateFrom",
      "camera.quantumEfficiency",
      "camera.filter",
      "camera.infraredFilter",
      "camera.response",
      "camera.gain",
      "camera.converterBits",
      "camera.darkCurrent",
      "camera.hotPixels",
      "camera.hotCurrent",
      "camera.chip",
      "camera.screenWidth",
      "camera.screenDistance",
      "camera.screenReflectance",
    ],
  },
};

/** Names of choices as a person says them; a choice not listed is shown as in the file, its hyphens as spaces. */
const CHOICES: Readonly<Record<string, string>> = {
  Li: "lithium",
  Na: "sodium",
  K: "potassium",
  Rb: "rubidium",
  Cs: "caesium",
  Mg: "magnesium",
  Ca: "calcium",
  Sr: "strontium",
  Ba: "barium",
  He: "helium",
  Ne: "neon",
  Ar: "argon",
  N2: "nitrogen",
  halogen: "tungsten halogen",
  "carbon-arc": "carbon arc",
  "xenon-arc": "xenon arc",
  led: "white LED",
  flat: "equal light",
  "direct-vision": "direct-vision prism",
  grating: "grating",
  linear: "straight scale",
  table: "own table",
  prism: "plain prism",
  hyperfine: "hyperfine",
  merged: "merged",
  "alcock-practical": "Alcock 1984, practical",
  "alcock-precise": "Alcock 1984, precise",
  nesmeyanov: "Nesmeyanov 1963",
  crc: "CRC handbook",
};

export function choiceWords(option: string): string {
  return CHOICES[option] ?? option.replaceAll("-", " ");
}

/** The element a field belongs to, so that a sentence about the field can open it. */
export function elementOf(path: string): ElementId | undefined {
  for (const [id, words] of Object.entries<ElementWords>(ELEMENT_WORDS)) {
    if (words.fields.includes(path) || words.finer?.includes(path) === true) return id as ElementId;
  }
  return undefined;
}
