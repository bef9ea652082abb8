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
    publishedUncertainty: "± of the published",
    deviation: "difference in uncertainties",
    element: "element",
    from: "from the lamp, mm",
    next: "to the next, mm",
    length: "length, mm",
    pictureRole: "picture",
    digest: "SHA-256",
  },
  roles: {
    hot: "hot",
    cold: "cold",
    lamp: "lamp",
    dark: "dark",
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
    "The reading fits gradient and column together to the pixels of the photograph, with the published strengths of the table above; the uncertainties are standard uncertainties. Between two lines the index passes 1 where the sum over all lines of the metal vanishes:",
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
  straight: "the vapour bends the light too little to draw",
  side: "from the side",
  above: "from above, the axis after the disperser laid straight",
};

export const EXPLAIN = {
  choose: "What is explained",
  still: "save as a still",
  film: "save as a short film",
  filming: (done: string) => `The film is being made: ${done}`,
  notDrawn: "Nothing is drawn yet; keep it when the drawing stands.",
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
    lead: "Crests, the middle of a pulse, and its very front run at three speeds. Where n is below one the crests outrun c, yet no light arrives before the front does, and the front runs at c: the atoms have not yet begun to answer. Nothing can be told by crests, which were there before, nor by a middle that is only reshaped from light behind the front; so n below one breaks no law.",
    duration: "length of the pulse",
    moment: "how far a front at c has come",
    since: (place: string, time: string) => `${place} into the vapour, after ${time}`,
    inVacuum: "through vacuum",
    inVapour: "through the vapour",
    around: (width: string) =>
      `the same moment ${width} around the front: ahead of it to the right there is no light`,
    snapshot: (place: string, length: string, behind: string) =>
      `A front at c stands ${place} into vapour ${length} long. The middle of the pulse in the vapour stands ${behind}.`,
    behind: (amount: string) => `${amount} behind the one in vacuum`,
    beyond: (amount: string) => `${amount} ahead of the one in vacuum, yet behind the front`,
    absorbed: "the vapour has taken nearly all of its light",
    delays: (group: string, own: string, energy: string) =>
      `Against vacuum a long pulse leaves the vapour ${group}, by its group velocity; the middle of this one leaves it ${own}, with ${energy} of its light.`,
    later: (amount: string) => `${amount} later`,
    earlier: (amount: string) => `${amount} earlier`,
    leaves: "What leaves the vapour",
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

/**
 * Sentences and causes that the rooms below speak in English, with a slot {0} to {9} for each part that changes (a number,
 * a symbol of an element, or another entry of this list); {9} is what the vessel is called. An entry that another language
 * lacks is told in English there, and marked so.
 */
export const SENTENCES = {
  tube: "tube",
  cell: "cell",
  minutes: "{0} min",
  hours: "{0} h",
  days: "{0} days",
  seconds: "{0} s",

  waterCooling:
    "Cooling water beside hot {0} is the gravest hazard here: a leak into the hot {9} bursts it and throws caustic spray{1}.",
  hydrogen: " ({0} g of {1} would set free {2} l of hydrogen, enough to make {3} l of air burnable)",
  nitride:
    "Hot {0} forms a nitride in nitrogen: the metal is lost, and the nitride gives off ammonia with water.",
  alkaliAndWater:
    "{0} and water free hydrogen, which may ignite or explode{1}: no water joint over or inside the hot space, a dry pan below.",
  metalAndSteam:
    "Cold water leaves {0} alone, but water on the hot {9} bursts into steam and the hot metal frees hydrogen from it: no water joint over or inside the hot space.",
  airWhileHot:
    "Air let in while the {9} is hot may set the {0} on fire: let it cool to the room's temperature under its gas before anything is opened.",
  metalFire: "Keep {0} within reach, enough to bury the charge; on burning {1} never {2}.",
  graphite: "graphite powder, or the class D powder made for lithium",
  salt: "a class D metal-fire powder on a base of sodium chloride or sodium carbonate",
  anyPowder: "a class D metal-fire powder (sodium chloride, soda ash or graphite)",
  neverUsual: "water, foam, carbon dioxide or halon",
  neverLithium: "{0}, nor powders of sodium salts, nor sand: burning lithium takes them apart",
  neverGraphite: "{0}, nor graphite, which has exploded on burning potassium",
  superoxide:
    "Old {0} under a yellow or orange crust holds superoxide, which explodes with oil or with the metal itself: leave it unopened to specialists.",
  barium: "Soluble barium compounds are poisonous (limit {0} mg/m³): gloves, no dust, waste to specialists.",
  zinc: "Zinc vapour that meets air turns to a smoke of oxide, which brings a fever some hours later (limit {0} mg/m³): open the {9} cold only, under an extractor.",
  largeCharge: "A charge of {0} g is more than the {1} g usual for a demonstration {9}.",
  leftovers:
    "Metal left in the {9} and on its cold ends stays reactive: no quenching, no sink; label it and hand {0} waste to the people licensed for it. Never work alone with it.",
  window:
    "An evacuated window can burst inward from a scratch or a blow: look at it before every run, polycarbonate shield and goggles, no crack test while hot, no faster than {0} K a minute, a relief valve for over-pressure.",
  cylinder:
    "Chain the gas cylinder, use its regulator, and air the room: argon is heavier than air, lies in pits, pushes the oxygen away and gives no warning.",
  brightLamp:
    "Looking into the bare lamp reaches the blue-light limit in {0}, and staring at it is over the limit within {1} m: never look along the beam, even after the prism; use the camera or a card.",
  xenon:
    "A xenon bulb stands under pressure cold and hot and can burst, its igniter gives tens of kilovolts, its ultraviolet burns eyes and skin and makes ozone: closed housing, visor and gloves at the bulb, ten minutes to cool before the housing is opened, ventilation.",
  carbonArc:
    "The carbon arc burns eyes and skin with ultraviolet and gives off carbon monoxide, nitrogen oxides and ozone: closed housing, extraction, dark glass.",
  mains:
    "Mains heaters on steel want earth, a residual-current breaker and an over-temperature cut-out with a sensor of its own, apart from the controller; no run goes unattended.",
  burnerAtTube:
    "Where a burner heats the {9}: carbon monoxide (35 ppm at most over a day), a gas tap within reach, no flame near gas hoses, ventilation.",
  burner:
    "A burner: carbon monoxide (35 ppm at most over a day), a gas tap within reach, no flame near gas hoses, ventilation.",
  burns: "The {9} at {0} °C {1} and burns at a touch for hours after: guard it and label it hot.",
  glows: "glows",
  dark: "does not glow",
  flameBurns:
    "Flame and burner burn at a touch, the burner for long after the gas is off: guard it and label it hot.",
  ethanol:
    "Ethanol burns, and its vapour catches fire at room temperature: no flame, no arc and no hot lamp beside the prism, little of it, a lid on it, air the room.",
  solvent:
    "Many solvents burn or harm when breathed: read the safety data sheet of this one before the bottle is opened; until then treat it as if it did both.",
  dye: "The program knows the dye by its absorbance only, not what it does to people: its safety data sheet decides on gloves, goggles and waste; some dyes are poisonous or cause cancer.",
  leak: "A cemented prism may leak: a tray under it, lamps and mains apart from it, nothing down the sink that the local rules do not allow there.",
  localRules:
    "Local codes, the laboratory's safety officer and licensed practice come first; this program never calls a setup safe.",

  good: "good: The model describes the picture down to its noise ({0}).",
  fair: "fair: The model describes the picture, with faults larger than the noise ({0}).",
  poor: "poor: The model misses features of the picture ({0}): look at the overlay before using the numbers.",
  doubtful: "fair: The model describes the picture down to its noise ({0}), but {1}.",
  lampBlind:
    "the lamp's lines fit the picture and its mirror image alike: the sign of the gradient is not told",
  linesBlind:
    "it bends the other way than the setup expects, and its lines cannot tell a mirrored picture: the sign of the gradient is not told",
  smokeDoubt: "smoke or a shadow dims the light beside a line's own gap: the column density is in doubt",
  coarseDoubt: "the file's counts are coarser than the noise in the dark: the column density is in doubt",
  restless: "poor: The fit did not come to rest ({0}): do not use the numbers.",
  atLimit: "poor: A parameter ran against its limit ({0}): the picture is not what the setup says.",
  chi: "χ² per degree of freedom {0} over {1} pixels",
  huge: "above a million",

  noCold: "No cold frame: where zero deflection is comes from the far ends of the hot curve alone.",
  noLamp: "No lamp frame: the line separation rests on the setup's disperser, to about 2 %.",
  ambiguous: "The lamp's lines fit the named ones in more than one way; name fewer or add a second lamp.",
  mirrorAlike:
    "The lamp's lines fit the picture as stored and its mirror image alike, so that the sign of the gradient is in doubt: name more lamp lines, or check the direction of the colours by hand.",
  smokeBeside:
    "Smoke or a shadow dims the light beside a line's own gap: the column density cannot be told from it there.",
  unknownLines: "{0} lamp line(s) are none of the named ones and were not used.",
  twoLines:
    "Only two lamp lines were identified: the bend of the wavelength scale is the setup's, not measured.",
  otherSize:
    "The picture has {0} × {1} pixels, the setup's camera {2} × {3}: pixel pitch taken as stated, {4} µm.",
  bendsOther: "The picture bends the other way than the setup expects: upside down, or hot {0}{1}.",
  above: "above",
  below: "below",
  orMirrored: ", or mirrored (its lines cannot tell)",
  noGradient:
    "No gradient is seen: the light bends by less than three standard uncertainties, so that only the column density is told, and no index from the heights.",
  coarseCount:
    "A count of the file is coarser than the noise in the dark: light fainter than half a count is lost, and the column density may be several per cent off; store 16 bits, or raise the gain until the dark flickers by a count.",
  overexposed: "{0} overexposed pixels were left out.",
  dimmed: "{0} columns whose light smoke, dust or a shadow changes were left out.",
  wild: "{0} wild pixels were struck.",
  wideGap:
    "A half-gap exceeds 0.3 nm: the Lorentz wing itself becomes doubtful there, and the column density with it.",
  ratioOff:
    "The strength ratio differs from the published one by more than its uncertainty: check line identification and gamma.",
  zeroOff:
    "The zero between the lines stands {0} pm from its atomic value: the wavelength scale is in doubt.",
  gradientChanges: "The gradient changes by more than 40 % over half the beam: use a lower beam.",
  mirrored:
    "The picture is stored mirrored, left for right: it was read the other way round; columns are those of the stored picture.",
  turnedLeft:
    "The picture lies on its side: it was turned to the left, as its lines say (--turn left); columns and rows are those of the turned picture.",
  turnedRight:
    "The picture lies on its side: it was turned to the right, as its lines say (--turn right); columns and rows are those of the turned picture.",

  vapourLength: "vapour over {0} mm ({1}): sets the density that goes into self-broadening",
  byMean: "the mean of bottom and top, the heated length",
  byWall: "the setup's wall temperatures",
  byCell: "the cell's side arm, body and gas as the setup gives them",
  byFlame: "the flame as the setup gives it",
  gasState: "gas at {0} K and {1} from the same: sets the Doppler width and the gas broadening",
  angles: "focal length {0} mm and pixel {1} µm: set the scale of angles",
  beam: "beam {0} mm high and evenly lit",
  gamma: "gamma {0} of the picture",
  rightAngles: "the level slit's image and the spectral lines at right angles (neither cold nor lamp frame)",
  straightLine: "the undeflected line is straight and its light smooth over the colours (no cold frame)",
  movedSlit: "height scale by the level slit moved a known amount, at the collimator's stated focal length",
  byMarks: "wavelength scale by two marks set by hand and the setup's disperser",
  byVapour:
    "wavelength scale by the published lines of the vapour itself and the setup's disperser (no lamp)",
  wideLenses: "lenses half as wide again as the beam",

  statistical: "statistical",
  systematic: "systematic",
  noise: "noise of the picture",
  shape: "assumed shape of the gradient across the beam",
  focal: "focal length and camera scale ({0} %)",
  heightScale: "height scale by the moved slit, collimator ({0} %)",
  heated: "heated length ({0} %)",
  selfBroadening: "self-broadening ({0} %)",
  fog: "fog: vapour between linear diffusion and saturation",
  publishedStrength: "published oscillator strength",
  gasBroadening: "broadening by the gas ({0} %)",
  side: "to which side of the beam the gradient grows",
  smokeCause: "smoke or a shadow beside the line's own gap",
  coarseCause: "counts of the file coarser than the noise in the dark",
  hiddenNoise: "noise of the dark, hidden within a count (a factor of {0})",
  restlessCause: "the fit did not come to rest",
  gammaDoubt: "gamma of the picture (± {0})",
};

/** What a pulse through the vapour says of itself, told in the same way; apart, since only the page needs it. */
export const PULSE_SENTENCES = {
  phase: "The phase runs faster than light in vacuum here; the front does not.",
  group:
    "The group velocity is beyond c or negative here: it moves the peak within the pulse, not its front.",
  nothing: "No light comes before the front at c: the share of energy computed there is {0}.",
  coarse:
    "A share of {0} of the energy is computed ahead of the front: the steps in time are too coarse for this medium.",
  short: "A share of {0} of the energy still comes at the end of the window: the window is too short.",
};
