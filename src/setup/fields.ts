/**
 * Every field of a setup file in one table: the parser, the published JSON Schema, the forms of the browser bench
 * and the documentation are all made from it, so that they cannot drift apart.
 */

interface FieldBase {
  /** dotted path in the file */
  readonly path: string;
  /** what a person calls it, short, sentence case */
  readonly label: string;
  /** one sentence of what it does */
  readonly sentence: string;
  /** the field is read only where the field at this path has one of these values */
  readonly when?: { readonly path: string; readonly is: readonly string[] };
  /** true where the field may be left out and has no default */
  readonly optional?: boolean;
}

/** A number with a unit, written as text such as "25 mm". */
export interface QuantityField extends FieldBase {
  readonly kind: "quantity";
  /** coherent SI unit of the value inside the program (UCUM code) */
  readonly unit: string;
  /** unit it is shown in */
  readonly show: string;
  /** legal range, SI, inclusive unless `openMin` */
  readonly min: number;
  readonly max: number;
  readonly openMin?: boolean;
  readonly default?: string;
}

export interface IntegerField extends FieldBase {
  readonly kind: "integer";
  readonly min: number;
  readonly max: number;
  readonly default?: number;
}

/** A plain number without a unit. */
export interface NumberField extends FieldBase {
  readonly kind: "number";
  readonly min: number;
  readonly max: number;
  readonly default?: number;
}

export interface ChoiceField extends FieldBase {
  readonly kind: "choice";
  readonly options: readonly string[];
  readonly default?: string;
}

export interface TextField extends FieldBase {
  readonly kind: "text";
  readonly default?: string;
}

export interface FlagField extends FieldBase {
  readonly kind: "flag";
  readonly default: boolean;
}

/** Numbers by line id, e.g. oscillator strengths entered by hand. */
export interface ByLineField extends FieldBase {
  readonly kind: "by-line";
  readonly min: number;
  readonly max: number;
}

export type Field =
  | QuantityField
  | IntegerField
  | NumberField
  | ChoiceField
  | TextField
  | FlagField
  | ByLineField;

/** Elements a setup may heat; `index` answers for more. */
export const HEATABLE = ["Li", "Na", "K", "Rb", "Cs", "Mg", "Ca", "Sr", "Ba"] as const;

export const BUFFER_GASES = ["He", "Ne", "Ar", "N2"] as const;

/** What a tube is made of; limits stand in data/materials.json. */
export const TUBE_MATERIALS = ["steel-304", "steel-316", "copper", "borosilicate", "fused-silica"] as const;

/** What a window is made of; strengths stand in data/materials.json. */
export const WINDOW_MATERIALS = ["fused-silica", "borosilicate", "crown", "sapphire"] as const;

/** What keeps the top of the tube cooler than the metal. */
export const COOLINGS = ["none", "air", "water"] as const;

const length = (
  path: string,
  label: string,
  show: string,
  min: number,
  max: number,
  preset: string,
  sentence: string,
): QuantityField => ({ kind: "quantity", path, label, unit: "m", show, min, max, default: preset, sentence });

const directVision = { path: "path.disperser.kind", is: ["direct-vision"] } as const;
const grating = { path: "path.disperser.kind", is: ["grating"] } as const;
const linear = { path: "path.disperser.kind", is: ["linear"] } as const;

const MEDIUM: readonly Field[] = [
  {
    kind: "choice",
    path: "medium.element",
    label: "metal",
    options: HEATABLE,
    sentence: "The metal whose vapour bends and absorbs the light.",
  },
  {
    kind: "choice",
    path: "medium.structure",
    label: "line structure",
    options: ["hyperfine", "merged"],
    default: "hyperfine",
    sentence: "Lines split into isotopes and hyperfine components, or each merged into one.",
  },
  {
    kind: "choice",
    path: "medium.pressureEquation",
    label: "pressure equation",
    options: ["alcock-practical", "alcock-precise", "nesmeyanov", "crc"],
    default: "alcock-practical",
    sentence: "The published equation that gives the vapour pressure over the metal.",
  },
  {
    kind: "quantity",
    path: "medium.gasWidth",
    label: "width by the gas",
    unit: "Hz",
    show: "MHz",
    min: 0,
    max: 1e12,
    optional: true,
    sentence:
      "Full width at half maximum that the buffer gas adds to each line, entered by hand instead of published rates.",
  },
  {
    kind: "by-line",
    path: "medium.strengths",
    label: "strengths by hand",
    min: 0,
    max: 10,
    optional: true,
    sentence: "Absorption oscillator strengths entered by hand, by line id, instead of the published ones.",
  },
];

const VESSEL: readonly Field[] = [
  length("vessel.bore", "bore", "mm", 1e-3, 0.5, "40 mm", "Inner diameter of the tube."),
  length(
    "vessel.heatedLength",
    "heated length",
    "mm",
    5e-3,
    5,
    "400 mm",
    "Length of tube that is kept hot below, centred on the tube.",
  ),
  length(
    "vessel.length",
    "window to window",
    "mm",
    5e-3,
    8,
    "800 mm",
    "Length of the tube from window to window.",
  ),
  {
    kind: "quantity",
    path: "vessel.bottom",
    label: "below",
    unit: "K",
    show: "degC",
    min: 200,
    max: 2000,
    sentence: "Wall temperature along the bottom of the heated length, where the metal lies.",
  },
  {
    kind: "quantity",
    path: "vessel.top",
    label: "above",
    unit: "K",
    show: "degC",
    min: 200,
    max: 2000,
    sentence: "Wall temperature along the top of the heated length; below the bottom's, it makes the layers.",
  },
  {
    kind: "quantity",
    path: "vessel.ends",
    label: "ends",
    unit: "K",
    show: "degC",
    min: 200,
    max: 2000,
    default: "60 degC",
    sentence: "Wall temperature beyond the heated length and at the windows.",
  },
  {
    kind: "quantity",
    path: "vessel.hotStrip",
    label: "hot strip",
    unit: "rad",
    show: "deg",
    min: 0.02,
    max: 6.2,
    default: "180 deg",
    sentence: "Full angle around the bottom that is hot; 180 degrees heats the lower half.",
  },
  {
    kind: "choice",
    path: "vessel.gas",
    label: "buffer gas",
    options: BUFFER_GASES,
    default: "Ar",
    sentence: "The gas that keeps the vapour from running to the windows.",
  },
  {
    kind: "quantity",
    path: "vessel.gasPressure",
    label: "gas pressure",
    unit: "Pa",
    show: "mbar",
    min: 0,
    openMin: true,
    max: 1e6,
    sentence: "Pressure while hot, or of the cold filling when the filling temperature is given.",
  },
  {
    kind: "quantity",
    path: "vessel.gasFilledAt",
    label: "filled at",
    unit: "K",
    show: "degC",
    min: 200,
    max: 1000,
    optional: true,
    sentence:
      "Temperature at which the gas was filled; given, the amount of gas is kept while the tube heats.",
  },
  {
    kind: "quantity",
    path: "vessel.charge",
    label: "charge",
    unit: "kg",
    show: "g",
    min: 0,
    max: 1,
    optional: true,
    sentence: "Mass of metal loaded; with it the program says how long the charge lasts.",
  },
  {
    kind: "choice",
    path: "vessel.tubeMaterial",
    label: "tube of",
    options: TUBE_MATERIALS,
    optional: true,
    sentence: "What the tube is made of; it sets how hot the wall may get.",
  },
  {
    kind: "choice",
    path: "vessel.cooling",
    label: "top cooled by",
    options: COOLINGS,
    default: "air",
    sentence: "What keeps the top cooler than the metal; air or less lagging is mostly enough.",
  },
  {
    kind: "choice",
    path: "vessel.windowMaterial",
    label: "windows of",
    options: WINDOW_MATERIALS,
    default: "fused-silica",
    sentence: "What the windows are made of; it sets how thick they must be.",
  },
  {
    kind: "quantity",
    path: "vessel.windowThickness",
    label: "window thickness",
    unit: "m",
    show: "mm",
    min: 1e-4,
    max: 0.1,
    optional: true,
    sentence: "Thickness of each window; with it the program says how far the air's pressure is from breaking it.",
  },
  {
    kind: "quantity",
    path: "vessel.windowDiameter",
    label: "free window diameter",
    unit: "m",
    show: "mm",
    min: 1e-3,
    max: 0.5,
    optional: true,
    sentence: "Diameter of the window that nothing supports; left out, the bore.",
  },
];

const PATH: readonly Field[] = [
  {
    kind: "choice",
    path: "path.source.kind",
    label: "lamp",
    options: ["halogen", "carbon-arc", "xenon-arc", "led", "flat"],
    default: "halogen",
    sentence: "The lamp that lights the level slit; flat means equal light at every wavelength.",
  },
  {
    kind: "quantity",
    path: "path.source.temperature",
    label: "lamp temperature",
    unit: "K",
    show: "K",
    min: 1000,
    max: 8000,
    default: "3200 K",
    when: { path: "path.source.kind", is: ["halogen", "carbon-arc", "xenon-arc"] },
    sentence: "Colour temperature of the filament or crater.",
  },
  length(
    "path.levelSlit",
    "level slit",
    "um",
    1e-6,
    5e-3,
    "30 um",
    "Opening of the first, horizontal slit, whose image the vapour moves up and down.",
  ),
  length(
    "path.collimatorFocalLength",
    "collimator",
    "mm",
    0.02,
    5,
    "300 mm",
    "Lens that makes the level slit's light parallel before the tube.",
  ),
  length(
    "path.beamHeight",
    "beam height",
    "mm",
    -0.2,
    0.2,
    "0 mm",
    "Middle of the beam above the axis of the tube.",
  ),
  length("path.beamSize", "beam size", "mm", 1e-4, 0.2, "4 mm", "Height of the beam in the tube."),
  length("path.beamWidth", "beam width", "mm", 1e-4, 0.2, "4 mm", "Width of the beam in the tube."),
  length(
    "path.focalLength",
    "focusing lens",
    "mm",
    0.02,
    10,
    "300 mm",
    "Lens after the tube; it turns the deflection into a displacement at the plumb slit.",
  ),
  length(
    "path.plumbSlit",
    "plumb slit",
    "um",
    1e-6,
    5e-3,
    "15 um",
    "Opening of the second, vertical slit, which sets the blur in wavelength.",
  ),
  length(
    "path.secondCollimatorFocalLength",
    "second collimator",
    "mm",
    0.02,
    5,
    "300 mm",
    "Lens that makes the plumb slit's light parallel before it is dispersed.",
  ),
  {
    kind: "choice",
    path: "path.disperser.kind",
    label: "disperser",
    options: ["direct-vision", "grating", "linear"],
    default: "direct-vision",
    sentence:
      "What spreads the colours sideways: a direct-vision glass prism, a transmission grating, or a known straight scale.",
  },
  {
    kind: "text",
    path: "path.disperser.crown",
    label: "crown glass",
    default: "517642",
    when: directVision,
    sentence: "Six-digit code of the outer prisms' glass.",
  },
  {
    kind: "text",
    path: "path.disperser.flint",
    label: "flint glass",
    default: "728284",
    when: directVision,
    sentence: "Six-digit code of the inner prism's glass.",
  },
  {
    kind: "quantity",
    path: "path.disperser.flintApex",
    label: "flint apex",
    unit: "rad",
    show: "deg",
    min: 0.1,
    max: 2.3,
    default: "100 deg",
    when: directVision,
    sentence: "Apex angle of the flint; the crown's angle follows from the undeviated wavelength.",
  },
  {
    kind: "quantity",
    path: "path.disperser.undeviated",
    label: "undeviated",
    unit: "m",
    show: "nm",
    min: 2e-7,
    max: 2e-6,
    default: "589.3 nm",
    when: directVision,
    sentence: "Vacuum wavelength that leaves the prism in the direction in which it came.",
  },
  {
    kind: "integer",
    path: "path.disperser.elements",
    label: "glasses in a train",
    min: 3,
    max: 5,
    default: 3,
    when: directVision,
    sentence: "Three glasses (crown, flint, crown) or five.",
  },
  {
    kind: "integer",
    path: "path.disperser.trains",
    label: "trains",
    min: 1,
    max: 2,
    default: 1,
    when: directVision,
    sentence: "One prism train, or two behind each other for twice the dispersion.",
  },
  {
    kind: "quantity",
    path: "path.disperser.grooves",
    label: "grooves",
    unit: "1/m",
    show: "1/mm",
    min: 1e4,
    max: 3e6,
    default: "1200 /mm",
    when: grating,
    sentence: "Grooves of the grating per length.",
  },
  {
    kind: "integer",
    path: "path.disperser.order",
    label: "order",
    min: 1,
    max: 3,
    default: 1,
    when: grating,
    sentence: "Order of diffraction that is used.",
  },
  {
    kind: "number",
    path: "path.disperser.wavelengthPerLength",
    label: "scale",
    min: 1e-9,
    max: 1e-3,
    default: 2e-6,
    when: linear,
    sentence: "Metres of wavelength per metre on the sensor, known from elsewhere (2e-6 is 2 nm per mm).",
  },
  length(
    "path.cameraFocalLength",
    "camera lens",
    "mm",
    0.005,
    5,
    "400 mm",
    "Lens that makes the picture on the sensor.",
  ),
  length(
    "path.centreWavelength",
    "middle of the picture",
    "nm",
    2e-7,
    2e-6,
    "457.5 nm",
    "Vacuum wavelength that falls on the middle of the sensor.",
  ),
  {
    kind: "number",
    path: "path.stray",
    label: "stray light",
    min: 0,
    max: 1,
    default: 0,
    sentence: "Light that reaches every pixel, as a share of the cold line.",
  },
  {
    kind: "quantity",
    path: "path.cameraRoll",
    label: "camera roll",
    unit: "rad",
    show: "deg",
    min: -0.5,
    max: 0.5,
    default: "0 deg",
    sentence: "Rotation of the camera about its axis; positive raises the right end of the picture.",
  },
  {
    kind: "quantity",
    path: "path.levelSlitTilt",
    label: "level slit off level",
    unit: "rad",
    show: "mrad",
    min: -0.5,
    max: 0.5,
    default: "0 mrad",
    sentence: "Slope of the level slit's image; positive raises its right end.",
  },
  {
    kind: "quantity",
    path: "path.defocus",
    label: "defocus",
    unit: "m",
    show: "um",
    min: 0,
    max: 1e-3,
    default: "3 um",
    sentence: "Blur by focus and lens faults on the sensor, standard deviation.",
  },
  {
    kind: "flag",
    path: "path.inverted",
    label: "picture upside down",
    default: false,
    sentence: "Whether the camera stores the picture upside down.",
  },
];

const CAMERA: readonly Field[] = [
  length("camera.pixel", "pixel", "um", 5e-7, 1e-4, "2.4 um", "Pitch of the pixels."),
  {
    kind: "integer",
    path: "camera.columns",
    label: "columns",
    min: 16,
    max: 12000,
    default: 1280,
    sentence: "Pixels across.",
  },
  {
    kind: "integer",
    path: "camera.rows",
    label: "rows",
    min: 16,
    max: 12000,
    default: 800,
    sentence: "Pixels down.",
  },
  {
    kind: "quantity",
    path: "camera.exposure",
    label: "exposure",
    unit: "s",
    show: "ms",
    min: 1e-6,
    max: 3600,
    default: "100 ms",
    sentence: "Exposure time.",
  },
  {
    kind: "quantity",
    path: "camera.rate",
    label: "signal rate",
    unit: "1/s",
    show: "1/s",
    min: 0,
    max: 1e12,
    default: "120000 /s",
    sentence: "Electrons per pixel and second in the middle of the cold line.",
  },
  {
    kind: "integer",
    path: "camera.fullWell",
    label: "full well",
    min: 100,
    max: 10000000,
    default: 15000,
    sentence: "Electrons a pixel holds.",
  },
  {
    kind: "number",
    path: "camera.readNoise",
    label: "read noise",
    min: 0,
    max: 1000,
    default: 3,
    sentence: "Electrons r.m.s. added when a pixel is read.",
  },
  {
    kind: "number",
    path: "camera.blackLevel",
    label: "black level",
    min: 0,
    max: 0.5,
    default: 0.01,
    sentence: "Offset of a dark picture as a share of full scale.",
  },
  {
    kind: "integer",
    path: "camera.bitDepth",
    label: "bits",
    min: 8,
    max: 16,
    default: 16,
    sentence: "Bits per sample of the stored picture, 8 or 16.",
  },
  {
    kind: "number",
    path: "camera.gamma",
    label: "gamma",
    min: 0.5,
    max: 4,
    default: 1,
    sentence: "Exponent of the stored picture's curve: sample = light^(1/gamma); 1 is linear.",
  },
  {
    kind: "integer",
    path: "camera.seed",
    label: "seed",
    min: 0,
    max: 4294967295,
    default: 1,
    sentence: "Seed of the noise: one seed, one picture.",
  },
];

export const FIELDS: readonly Field[] = [
  { kind: "text", path: "title", label: "title", default: "Untitled", sentence: "Name of the setup." },
  {
    kind: "text",
    path: "notes",
    label: "notes",
    default: "",
    sentence: "Whatever should stay with the setup.",
  },
  ...MEDIUM,
  ...VESSEL,
  ...PATH,
  ...CAMERA,
];

/** The field at a path, or undefined. */
export function fieldAt(path: string): Field | undefined {
  return FIELDS.find((field) => field.path === path);
}
