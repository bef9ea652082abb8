/** Everything that a reader of a report or a handout reads, in English, and how numbers are written. */

export const LOCALE = "en-GB";

export const WORDS = {
  asCsv: "the same as CSV",
  save: "save",
  run: {
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
    how: [
      "Each vapour atom answers light as damped oscillators do; away from the lines the index is",
      "Density that changes with height bends light towards the larger index, by",
      "and the vapour lets pass",
      "The reading fits gradient and column together to the pixels of the photograph, with the published strengths below; the uncertainties are standard uncertainties. Between two lines the index passes 1 where the sum over all lines of the metal vanishes:",
    ],
    provenance: "Made with",
  },
  handout: {
    title: "Measuring an atom with a ruler",
    solutions: "For the teacher: solutions",
    made: "computed, not photographed; print it unscaled",
    scale: (perMm: string, pixel: string, enlargement: string) =>
      `Print scale: 1 mm on this paper is ${perMm} pixels of the camera, ${pixel} µm on its sensor (${enlargement} times enlarged).`,
    bar: "This bar must be 100 mm long. If it is not, divide every length that you measure by its length and multiply by 100 mm.",
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
    up: "up",
    down: "down",
    cannot: "a setup whose picture shows a line that cuts a gap and bends the light by 2 mm on paper or more",
  },
} as const;

/** A number for people, with so many significant digits; powers of ten as HTML. */
export function numberHtml(value: number, digits = 4): string {
  if (value === 0) return "0";
  const size = Math.abs(value);
  if (size >= 1e-3 && size < 1e6) return plainNumber(value, digits);
  let power = Math.floor(Math.log10(size));
  let lead = Number((value / 10 ** power).toPrecision(digits));
  if (Math.abs(lead) >= 10) {
    power += 1;
    lead /= 10;
  }
  return `${plainNumber(lead, digits)} × 10<sup>${String(power).replace("-", "−")}</sup>`;
}

/** A number without a power of ten. */
export function plainNumber(value: number, digits: number): string {
  return new Intl.NumberFormat(LOCALE, {
    minimumSignificantDigits: digits,
    maximumSignificantDigits: digits,
  })
    .format(value)
    .replace("-", "−");
}
