/** Findings about a prism with dye: does its curve stand out, how dark is the band, how sure is the index. */
import { curvePoints, type Forecast, type SolutionStage } from "../setup/index.ts";
import { formatQuantity } from "../quantity/index.ts";
import type { Finding } from "./finding.ts";
import { COMMON, digits, nm } from "./words.ts";

/** Full width of a Gaussian at half maximum over its standard deviation. */
const FWHM = 2 * Math.sqrt(2 * Math.LN2);
/** Share of the light below which a colour counts as dark. */
const DARK = 0.05;
/** Share above which it still draws the curve. */
const BRIGHT = 0.2;

export function solutionFindings(forecast: Forecast, stage: SolutionStage): Finding[] {
  return [...swing(forecast, stage), ...band(forecast), ...outside(forecast, stage), ...remarks(stage)];
}

/** How far the dye alone moves the curve where there is light left, against the curve's own thickness. */
function swing({ setup, curve }: Forecast, { solution }: SolutionStage): Finding[] {
  const points = curvePoints(setup, curve);
  const clear = solution.clear(points.wavelength).deflection;
  let low = 0;
  let high = 0;
  points.wavelength.forEach((_, i) => {
    if (points.transmission[i] < BRIGHT) return;
    low = Math.min(low, points.deflection[i] - clear[i]);
    high = Math.max(high, points.deflection[i] - clear[i]);
  });
  const apart = high - low;
  const { scale } = curve;
  const thickness = Math.hypot(scale.levelSlitHeight, FWHM * scale.blurHeight, setup.camera.pixel);
  const times = (apart * Math.abs(scale.perRadian)) / thickness;
  const numbers = { value: times, threshold: 3, unit: "1", source: COMMON };
  const said = `Where a fifth of the light is left, the dye moves the curve by ${formatQuantity(apart, "rad", { digits: 3 })} from one side of its band to the other, ${digits(times, 2)} times the curve's own thickness`;
  if (times >= 3) return [{ code: "curve-height", level: "fine", sentence: `${said}.`, ...numbers }];
  return [
    {
      code: "curve-low",
      level: "mind",
      sentence: `${said}: too little to be seen well.`,
      ...numbers,
      remedy: {
        text: "dissolve more dye, and let the light pass nearer to the edge, where the liquid is thin",
      },
    },
  ];
}

/** How much of the picture is dark. */
function band({ setup, curve }: Forecast): Finding[] {
  const points = curvePoints(setup, curve);
  const dark = points.wavelength.filter((_, i) => points.transmission[i] < DARK);
  const darkest = points.transmission.indexOf(Math.min(...points.transmission));
  const source = "Lambert and Beer over the way in the liquid at each height of the beam";
  if (dark.length === 0) {
    return [
      {
        code: "band-clear",
        level: "fine",
        sentence: `The light passes the whole band: at ${nm(points.wavelength[darkest])} nm, where least does, ${digits(100 * points.transmission[darkest], 2)} %.`,
        value: points.transmission[darkest],
        threshold: DARK,
        unit: "1",
        source,
      },
    ];
  }
  const share = dark.length / points.wavelength.length;
  const ends = `${nm(dark[0])} to ${nm(dark[dark.length - 1])} nm`;
  return [
    {
      code: share > 0.7 ? "band-too-dark" : "band-dark",
      level: share > 0.7 ? "mind" : "fine",
      sentence: `From ${ends} less than a twentieth of the light is left.`,
      value: share,
      threshold: 0.7,
      unit: "1",
      source,
      ...(share > 0.7
        ? { remedy: { text: "less dye, or light nearer to the edge, where the liquid is thin" } }
        : {}),
    },
  ];
}

/** What absorption outside the table may do to the index. */
function outside({ setup }: Forecast, { solution }: SolutionStage): Finding[] {
  const { centreWavelength } = setup.path;
  const { wavelengthMin, wavelengthMax } = solution.medium;
  if (!(centreWavelength >= wavelengthMin && centreWavelength <= wavelengthMax)) return [];
  const [error] = solution.medium.at(Float64Array.of(centreWavelength)).outsideError;
  if (error === 0) return [];
  return [
    {
      code: "dye-outside-table",
      level: "mind",
      sentence: `Absorption outside the table, were it everywhere as strong as the band, would move the index by up to ${digits(error, 2)}: it shifts the whole curve far more than it bends it.`,
      value: error,
      unit: "1",
      source: "Kramers–Kronig integral over what the table leaves out",
      remedy: { text: "measure the absorbance over a wider range" },
    },
  ];
}

function remarks({ solution }: SolutionStage): Finding[] {
  return solution.medium.remarks.map((remark) => ({
    code: "dye-model",
    level: "fine" as const,
    sentence: `${remark[0].toUpperCase()}${remark.slice(1)}.`,
    source: "what the model of the medium says of itself",
  }));
}
