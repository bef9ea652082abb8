/**
 * Everything that a student reads in the report, the handout and the explaining views, in English: the one language file.
 * Another language is another file with the same constants; what it must hold is checked by the types in language.ts.
 * Letters that stand for a quantity (λ, n, N, G) and signs of units are no words and stay with the code that writes them.
 */

/** Names of metals within a sentence. */
export const METALS: Readonly<Record<string, string>> = {
  Li: "lithium",
  Na: "sodium",
  K: "potassium",
  Rb: "rubidium",
  Cs: "caesium",
  Mg: "magnesium",
  Ca: "calcium",
  Sr: "strontium",
  Ba: "barium",
};

export const REPORT = {
  asCsv: "the same as CSV",
  save: "save",
  title: (title: string) => `Report of the run “${title}”`,
  setup: "Setup",
  fields: "Fields of the setup file",
  distances: "Distances of the bench",
  log: "What was logged",
  pictures: "Predicted and photographed picture",
  predicted: "predicted from the setup",
  photographed: "photographed",
  tone: (by: number) =>
    `Both with the same tone curve (square root, up to the sample below which 99.9 % lie)${by > 1 ? `, averaged over ${by} × ${by} pixels` : ""}.`,
  reading: "Reading",
  budget: "Where the uncertainty comes from",
  published: "Comparison with published strengths",
  cautions: "Cautions",
  defer: "Local codes, the safety officer and people licensed for the work decide; this is a reminder.",
  origin: "How each number came about",
  noReading: "No reading of this run is kept in the notebook.",
  kinds: {
    setup: "setup",
    run: "run",
    temperatures: "temperatures",
    remark: "remark",
    picture: "picture",
    reading: "reading",
    forecast: "forecast",
    plan: "plan",
    report: "report",
  },
  corrected: "corrected by a later entry",
  oneLine: "One line, or no ratio measured: there is no strength ratio to compare.",
  mind: "Mind",
  assumed: "Assumed",
  none: "not measured",
  columns: {
    field: "field",
    value: "value",
    noise: "± from noise",
    all: "± with systematic parts",
    unit: "unit",
    cause: "cause",
    kind: "kind",
    time: "time",
    what: "what",
    line: "line",
    wavelength: "vacuum wavelength, nm",
    strength: "published f",
    source: "source",
    quantity: "quantity",
    measured: "measured",
    publishedValue: "published",
    deviation: "difference in uncertainties",
    element: "element",
    from: "from the lamp, mm",
    next: "to the next, mm",
    length: "length, mm",
    pictureRole: "picture",
    digest: "SHA-256",
  },
  quantities: {
    columnGradient: "gradient of the column, ∫∂N/∂y dz",
    columnDensity: "column of atoms, ∫N dz",
    lineSeparation: "distance of the two lines, vacuum",
    fRatio: "strength ratio f(shorter)/f(longer)",
    tilt: "tilt of the cold line",
  },
  short: {
    columnGradient: "gradient",
    columnDensity: "column",
    lineSeparation: "distance",
    fRatio: "ratio",
    tilt: "tilt",
  },
  how: [
    "Each vapour atom answers light as damped oscillators do; away from the lines the index is",
    "Density that changes with height bends light towards the larger index, by",
    "and the vapour lets pass",
    "The reading fits gradient and column together to the pixels of the photograph, with the published strengths below; the uncertainties are standard uncertainties. Between two lines the index passes 1 where the sum over all lines of the metal vanishes:",
  ],
  provenance: "Made with",
  data: "data",
  setupDigest: "setup",
  entry: "entry",
  seed: "seed",
  measuredIndex: "Index of the vapour as measured",
  indexFigure: {
    title: "Measured index of the vapour",
    words: (points: number, from: string, to: string) =>
      `${points} points of the traced curve, turned into n − 1 with the column and its gradient as fitted, over the curve of published strengths, from ${from} to ${to} nm in vacuum.`,
    fitted: "n − 1 by published strengths",
    points: "traced points",
    across: "vacuum wavelength, nm",
    up: "n − 1",
    note: "Each point is where the traced curve stands over the cold line, as an angle at the vessel, times the atoms on the way through and divided by their gradient and by the length of the vapour. Where too little light is left there are none. Next to the gap the blur of the picture holds the points back. The curve is the sum over the metal's published lines at the measured density.",
  },
};

export const HANDOUT = {
  title: "Measuring an atom with a ruler",
  solutions: "For the teacher: solutions",
  made: "computed, not photographed; print it unscaled",
  scale: (perMm: string, pixel: string, enlargement: string) =>
    `Print scale: 1 mm on this paper is ${perMm} pixels of the camera, ${pixel} µm on its sensor (${enlargement} times enlarged).`,
  bar: "This bar must be 100 mm long. If it is not, divide every length that you measure by its length and multiply by 100 mm.",
  heading: (title: string, setup: string) => `${title}: ${setup}`,
  plain: (metal: string) =>
    `White light has passed hot ${metal} vapour and then a disperser, so that each colour stands at its own place from left to right. The picture is a negative: dark is light. Without vapour all colours lie on the dashed line. The vapour is denser on one side, so it bends light like a prism: most where the light is nearly in step with the atoms, and to opposite sides on the two sides of their line. In the line itself the atoms take the light away: there the band breaks.`,
  given: "Given",
  questions: "Questions",
  answer: "Solution",
  marks: "wavelength marks at the upper edge",
  strength: "oscillator strength f",
  lever: "height on the sensor for each radian of bend",
  wavelength: "vacuum wavelength",
  farLines: "F, the part of the metal's lines beyond the picture",
  gas: "bend by the gas that gives way to the vapour (positive: up)",
  ask: {
    scale:
      "Measure the distance between the two wavelength marks. How many nanometres is one millimetre, on average?",
    line: (name: string) =>
      `How far from the left edge is the middle of the gap ${name}? Which wavelength is that, if the scale is even? The atom's own is given: how far off is an even scale?`,
    gap: (name: string) =>
      `How wide is the gap ${name}, from half light to half light, in millimetres and in nanometres?`,
    bend: (name: string) =>
      `Measure at ${name} how far the middle of the band is from the dashed line. By which angle has the vapour bent this colour? Up or down on the paper?`,
    gradient: (name: string) =>
      `Take the gas's part from the angle at ${name}. With the strengths given, find G, the gradient of the number of atoms along the light, from the formula.`,
    zero: "At Z, between the lines, the vapour neither bends up nor down: there n is 1. How far is Z from the middle between A and B? From its wavelength and the strength of the line of longer wavelength, find the ratio of the strengths, shorter to longer.",
  },
  solve: {
    line: (place: string, even: string, off: string) =>
      `${place}; ${even}, ${off} off: the disperser's scale is not even.`,
    gap: (width: string, span: string, ruler: string) =>
      `${width}; ${span}, half a millimetre of the ruler being ${ruler}.`,
    bend: (height: string, angle: string, share: string) =>
      `${height}; ${angle}, half a millimetre being ${share}.`,
    gradient: (gradient: string, ruler: string, program: string) =>
      `G = ${gradient} ± ${ruler}; the program itself has ${program} in the middle of the beam.`,
    zero: (offset: string, ratio: string, published: string) =>
      `${offset}; ${ratio}, by published strengths ${published}.`,
  },
  up: "up",
  down: "down",
  cannot: "a setup whose picture shows a line that cuts a gap and bends the light by 2 mm on paper or more",
};

export const BENCH = {
  names: {
    source: "lamp",
    condenser: "condenser",
    "level-slit": "level slit",
    collimator: "collimator",
    tube: "vapour tube",
    cell: "vapour cell",
    flame: "flame",
    prism: "prism with dye",
    "focusing-lens": "focusing lens",
    "plumb-slit": "plumb slit",
    "second-collimator": "second collimator",
    disperser: "disperser",
    "camera-lens": "camera lens",
    sensor: "sensor",
  },
  scale: (scale: string, across: string) =>
    `scale 1:${scale} along the light; across it ${across} times larger`,
  bends: (bends: string) => `bends of the light ${bends} times larger again`,
  side: "from the side",
  above: "from above, the axis after the disperser laid straight",
};

export const EXPLAIN = {
  choose: "What is explained",
  still: "save as a still",
  film: "save as a short film",
  filming: (done: string) => `The film is being made: ${done}`,
  noFilm: "This browser cannot write films; the still can be kept.",
  filmName: (view: string) => `crossprism, ${view}`,
  numbers: "How numbers are written",
  asBrowser: (example: string) => `as this browser is set: ${example}`,
  asEnglish: (example: string) => `as in English: ${example}`,
  wavelength: "wavelength",
  vacuum: "vacuum",
  air: "air",
  nmVacuum: "nm vacuum",
  nmAir: "nm air",
  lightLeft: "light left",
  bendUp: "bend up",
  up: (amount: string) => `${amount} up`,
  down: (amount: string) => `${amount} down`,
  slider: "colour of the light that drives",
  views: {
    oscillator: "one oscillator",
    gap: "why the curve breaks",
    pair: "two oscillators",
    strengths: "classical and quantum",
    velocities: "three velocities",
    layers: "a prism of vapour",
    warming: "cold to hot",
  },
  oscillator: {
    lead: "Light shakes an electron that is held by a spring. Far below its own frequency it follows in step, far above it lags by half a turn, and at resonance by a quarter: there it takes most.",
    across: "across the gap",
    within: "inside the line",
    scale: "How far the slider reaches",
    drive: "the light's push",
    answer: "the electron's place",
    phase: (turns: string, amplitude: string) =>
      `It lags by ${turns} of a turn and swings ${amplitude} of what it would at resonance.`,
    swinging: (turns: string) =>
      `The light's push and the electron's place, which lags by ${turns} of a turn`,
    shrunk: "the electron's place (square root of its swing)",
    time: "time",
    index: "n − 1 and the light absorbed, from all lines of the metal at the vapour's density",
    summary: (colour: string) => `n − 1 over the wavelengths in view, with the driven colour at ${colour}`,
    tube: (bend: string) => `In the vapour this colour bends ${bend} (drawn larger).`,
    picture: "The same colour is the dotted line in the picture above.",
  },
  gap: {
    lead: "The bend goes on growing towards the line, but the light runs out first. What the picture shows is the part of the curve whose light is left; the gap hides the rest.",
    threshold: "least light that the eye or camera still sees",
    shown: "seen",
    hidden: "hidden: too dark",
    says: (hidden: string, seen: string) =>
      `With that threshold the curve is seen up to ${seen}; ${hidden} of the wavelengths in view are hidden.`,
  },
  pair: {
    lead: "Two oscillators side by side, one for each line of the pair. Each bends light its own way; between the lines they pull against each other, and at one wavelength they cancel. Where that is tells the ratio of their strengths.",
    ratio: "strength of the shorter line over the longer",
    published: (ratio: string) => `published: ${ratio}`,
    zero: (zero: string, own: string) =>
      `With this ratio the pair alone cancels at ${zero} vacuum; the whole vapour of this setup at ${own}.`,
    noZero: "no wavelength in view",
    axis: "n − 1 of the pair, scaled",
    none: "This view needs two lines in the picture: open a setup with a pair.",
  },
  strengths: {
    lead: "A classical atom has one electron on one spring: strength 1 in a single line. The quantum atom shares this one out over all its lines. The numbers below are published.",
    line: "line, vacuum",
    strength: "published strength",
    classical: "bend in the classical atom over this one",
    sum: (sum: string) =>
      `The lines listed here take ${sum} of the one electron; the rest lies in higher lines and beyond the limit of the series.`,
    above: (sum: string) =>
      `The lines listed here take ${sum}: more than one electron, because the outer electron is barred from the filled shells below it and takes over their share.`,
  },
  velocities: {
    lead: "Crests, the middle of a pulse, and its very front run at three speeds. Where n is below one the crests outrun c, yet no light arrives before the front does, and the front runs at c: the atoms have not yet begun to answer.",
    duration: "length of the pulse",
    before: "the pulse after as much vacuum",
    after: "the pulse after the vapour",
    marks: (phase: string, group: string, ahead: string) =>
      `At this colour the crests run at ${phase}, a long pulse at ${group}. Of the energy that arrives, ${ahead} is found before the front would arrive at c: the trace of a finite computation, nothing more.`,
    time: "time after a front at c",
    intensity: "intensity",
    front: "front at c",
    noSpeed: "no speed of its own",
    phase: "phase",
    group: "group",
    frontName: "front",
    busy: "The pulse is being carried through the vapour…",
  },
  layers: {
    lead: "The vapour is dense below and thin above. Light that it slows, on the red side of a line, bends towards the dense side, as in a glass prism with its base below; light that it hastens, on the blue side, bends away from it.",
    stands: "How the vapour stands",
    says: (below: boolean) =>
      below
        ? "Dense vapour below: light of the red side of the line bends down, light of the blue side of the line up."
        : "Dense vapour above: light of the red side of the line bends up, light of the blue side of the line down.",
    upright: "hot below",
    turned: "turned over",
    red: "red side of the line",
    blue: "blue side of the line",
    note: "Turn the dense side up and both change sides; a camera that turns the picture over does the same to what you see.",
  },
  warming: {
    lead: "Cold, the line is straight. As the metal warms the vapour thickens, by two or three per cent for every kelvin, and the curve grows out of the line until the gap opens.",
    steps: (count: string) => `${count} curves from cold to hot, the hottest drawn strongest.`,
    at: (steps: string, temperatures: string) => `${steps} Temperature of the metal: ${temperatures}.`,
    degrees: (degrees: string) => `${degrees} degrees Celsius`,
    across: "wavelength, nm vacuum",
    heading: "bend up, mrad",
  },
};
