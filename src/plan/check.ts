/**
 * Is it worth building, and what will spoil it: findings about a forecast, each with its number, its threshold and
 * the source of the threshold. Pure; cautions about harm to people are in cautions.ts.
 */

import { formatQuantity } from "../quantity/index.ts";
import { curvePoints, type Forecast } from "../setup/index.ts";
import type { Finding } from "./finding.ts";

const COMMON = "common practice, no source";

/** Findings in the order of their weight: stop, mind, fine. */
export function check(forecast: Forecast): readonly Finding[] {
  const findings = [
    ...curveHeight(forecast),
    ...gapWidth(forecast),
    ...pairApart(forecast),
    ...inFrame(forecast),
    ...exposure(forecast),
    ...vapour(forecast),
  ];
  const weight = { stop: 0, mind: 1, fine: 2 } as const;
  return findings.map((finding, i) => ({ finding, i })).sort((a, b) => weight[a.finding.level] - weight[b.finding.level] || a.i - b.i).map(({ finding }) => finding);
}

const nm = (metres: number): string => (metres * 1e9).toFixed(2);

function strongest(forecast: Forecast) {
  return [...forecast.curve.lines].sort((a, b) => Math.abs(b.edgeDeflection) - Math.abs(a.edgeDeflection))[0];
}

/** Height of the curve at the gap's edge against the thickness of the drawn line. */
function curveHeight(forecast: Forecast): Finding[] {
  const line = strongest(forecast);
  if (line === undefined) {
    return [
      {
        code: "no-line",
        level: "stop",
        sentence: "No line of this metal falls on the sensor: the picture will show an undisturbed band.",
        source: "published line table",
        remedy: { text: "set the middle of the picture to a line of the metal, or choose another metal" },
      },
    ];
  }
  const { scale } = forecast.curve;
  const height = Math.abs(line.edgeDeflection) * Math.abs(scale.lengthPerRadian);
  const thickness = scale.levelSlitImage;
  const times = height / thickness;
  const said = `At the gap's edge the curve of ${nm(line.wavelength)} nm stands ${formatQuantity(Math.abs(line.edgeDeflection), "rad")} high, ${times.toPrecision(2)} times its own thickness`;
  const numbers = { value: times, threshold: 3, unit: "1", source: COMMON };
  if (line.halfGap === 0) {
    return [
      {
        code: "too-thin",
        level: "mind",
        sentence: `The vapour is too thin to darken ${nm(line.wavelength)} nm: no gap, hardly a bend.`,
        ...numbers,
        remedy: { text: "heat the bottom", set: { "vessel.bottom": celsius(forecast.setup.vessel.wall.bottom + 20) } },
      },
    ];
  }
  if (times >= 3) return [{ code: "curve-height", level: "fine", sentence: `${said}.`, ...numbers }];
  return [
    {
      code: "curve-low",
      level: "mind",
      sentence: `${said}: too little to be seen well.`,
      ...numbers,
      remedy: {
        text: "narrow the level slit",
        set: { "path.levelSlit": formatPlain(forecast.setup.path.levelSlit / 2, 1e6, "um") },
      },
    },
  ];
}

/** Blur in wavelength at a wavelength: the plumb slit's image, the pixel and the focus, on the scale there. */
export function wavelengthBlur(forecast: Forecast, wavelength: number): number {
  const { map, scale } = forecast.curve;
  const { camera, path } = forecast.setup;
  const width = Math.hypot(scale.plumbSlitImage, camera.pixel, path.defocus * 2.355);
  const at = map.position(wavelength);
  return Math.abs(map.wavelengthAt(at + width / 2) - map.wavelengthAt(at - width / 2));
}

function gapWidth(forecast: Forecast): Finding[] {
  const line = strongest(forecast);
  if (line === undefined || line.halfGap === 0) return [];
  const blur = wavelengthBlur(forecast, line.wavelength);
  const times = line.halfGap / blur;
  const numbers = { value: times, unit: "1", source: `${COMMON} (half-gap 1 to 2 times the blur)` };
  const said = `The gap's half width at ${nm(line.wavelength)} nm is ${formatQuantity(line.halfGap, "m")}, ${times.toPrecision(2)} times the blur of slit and pixel`;
  if (times < 0.7) {
    return [
      {
        code: "gap-unresolved",
        level: "mind",
        sentence: `${said}: the steep branches are smeared out.`,
        threshold: 0.7,
        ...numbers,
        remedy: {
          text: "halve the plumb slit, or spread the colours more",
          set: { "path.plumbSlit": formatPlain(forecast.setup.path.plumbSlit / 2, 1e6, "um") },
        },
      },
    ];
  }
  if (times > 6) {
    return [
      {
        code: "too-dense",
        level: "mind",
        sentence: `${said}: more heat than the picture needs, it only widens the gap.`,
        threshold: 6,
        ...numbers,
        remedy: { text: "cool the bottom by 15 K", set: { "vessel.bottom": celsius(forecast.setup.vessel.wall.bottom - 15) } },
      },
    ];
  }
  return [{ code: "gap-width", level: "fine", sentence: `${said}.`, ...numbers }];
}

function pairApart(forecast: Forecast): Finding[] {
  const [first, second] = forecast.curve.lines;
  if (first === undefined || second === undefined) return [];
  const apart = second.wavelength - first.wavelength;
  const blur = wavelengthBlur(forecast, (first.wavelength + second.wavelength) / 2);
  const times = apart / blur;
  const numbers = { value: times, threshold: 4, unit: "1", source: COMMON };
  const gaps = first.halfGap + second.halfGap;
  if (gaps >= apart) {
    return [
      {
        code: "gaps-merge",
        level: "mind",
        sentence: `The two gaps have grown into one: together they are ${formatQuantity(gaps, "m")} wide, the lines stand ${formatQuantity(apart, "m")} apart.`,
        value: gaps / apart,
        threshold: 1,
        unit: "1",
        source: "half-gaps of this forecast",
        remedy: { text: "cool the bottom by 20 K", set: { "vessel.bottom": celsius(forecast.setup.vessel.wall.bottom - 20) } },
      },
    ];
  }
  if (times >= 4) {
    return [{ code: "pair-apart", level: "fine", sentence: `The pair is clearly apart: ${times.toPrecision(2)} times the blur of slit and pixel.`, ...numbers }];
  }
  return [
    {
      code: "pair-unresolved",
      level: "mind",
      sentence: `The pair is not resolved: it stands ${times.toPrecision(2)} times the blur of slit and pixel apart.`,
      ...numbers,
      remedy: {
        text: "halve the plumb slit or take a prism with more dispersion",
        set: { "path.plumbSlit": formatPlain(forecast.setup.path.plumbSlit / 2, 1e6, "um") },
      },
    },
  ];
}

/** Does the drawn curve stay on the sensor where it is still bright. */
function inFrame(forecast: Forecast): Finding[] {
  const points = curvePoints(forecast.setup, forecast.curve);
  const { rows } = forecast.setup.camera;
  let bright = 0;
  let out = 0;
  for (let i = 0; i < points.row.length; i++) {
    if (points.transmission[i] < 0.5) continue;
    bright++;
    if (points.row[i] < 0 || points.row[i] > rows) out++;
  }
  if (out === 0 || bright === 0) return [];
  return [
    {
      code: "curve-leaves-picture",
      level: "mind",
      sentence: "The bright part of the curve runs out of the picture above or below.",
      value: out,
      unit: "1",
      source: "curve of this forecast",
      remedy: { text: "use a shorter camera lens or a larger sensor" },
    },
  ];
}

function exposure(forecast: Forecast): Finding[] {
  const { camera } = forecast.setup;
  const electrons = camera.rate * camera.exposure;
  const share = electrons / camera.fullWell;
  if (share > 1) {
    return [
      {
        code: "overexposed",
        level: "mind",
        sentence: `The cold line is overexposed: ${Math.round(electrons)} electrons in pixels that hold ${camera.fullWell}.`,
        value: share,
        threshold: 1,
        unit: "1",
        source: "signal rate and full well of the setup",
        remedy: { text: "shorten the exposure", set: { "camera.exposure": formatPlain((camera.exposure / share) * 0.8, 1e3, "ms") } },
      },
    ];
  }
  if (electrons < 100) {
    return [
      {
        code: "underexposed",
        level: "mind",
        sentence: `Only ${Math.round(electrons)} electrons per pixel in the cold line: the branches will drown in noise.`,
        value: electrons,
        threshold: 100,
        unit: "1",
        source: COMMON,
        remedy: { text: "expose longer", set: { "camera.exposure": formatPlain((camera.exposure / share) * 0.6, 1e3, "ms") } },
      },
    ];
  }
  return [];
}

/** The vessel's own warnings, as findings. */
function vapour(forecast: Forecast): Finding[] {
  return forecast.vapour.numbers.warnings.map((warning) => ({
    code: warning.code,
    level: warning.level,
    sentence: warning.sentence,
    ...(warning.value === undefined ? {} : { value: warning.value }),
    ...(warning.threshold === undefined ? {} : { threshold: warning.threshold }),
    unit: "1",
    source: warning.source,
    ...(warning.remedy === undefined ? {} : { remedy: warning.remedy }),
  }));
}

function celsius(kelvin: number): string {
  return `${Number((kelvin - 273.15).toFixed(1))} degC`;
}

function formatPlain(si: number, factor: number, unit: string): string {
  return `${Number((si * factor).toPrecision(3))} ${unit}`;
}
