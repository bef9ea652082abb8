/** Findings about the curve that will be seen: tall enough, gap narrow enough, pair apart, blur spent where, on the sensor. */
import { formatQuantity } from "../quantity/index.ts";
import { curvePoints, type CurveStage, type Forecast, type LineGap, type Setup } from "../setup/index.ts";
import type { Finding, Remedy } from "./finding.ts";
import { celsiusText, COMMON, digits, nm, plainText } from "./words.ts";

/** Full width of a Gaussian at half maximum over its standard deviation. */
const FWHM = 2 * Math.sqrt(2 * Math.LN2);

export function curveFindings(forecast: Forecast): Finding[] {
  return [
    ...curveHeight(forecast),
    ...gapWidth(forecast),
    ...pairApart(forecast),
    ...blurSpent(forecast),
    ...inFrame(forecast),
  ];
}

/** The line whose curve stands tallest at its gap. */
export function tallestLine(lines: readonly LineGap[]): LineGap | undefined {
  return [...lines].sort((a, b) => Math.abs(b.edgeDeflection) - Math.abs(a.edgeDeflection))[0];
}

export interface Blur {
  /** full width in wavelength, m */
  readonly width: number;
  /** its parts as lengths on the sensor, m */
  readonly slit: number;
  readonly pixel: number;
  readonly focus: number;
}

/** Blur in wavelength: image of the plumb slit, pixel, and focus with diffraction, joined in quadrature on the scale there. */
export function wavelengthBlur(
  setup: Setup,
  curve: Pick<CurveStage, "map" | "scale">,
  wavelength: number,
): Blur {
  const { map, scale } = curve;
  const slit = scale.plumbSlitWidth;
  const { pixel } = setup.camera;
  const focus = FWHM * scale.blurWidth;
  const width = Math.hypot(slit, pixel, focus);
  const middle = map.position(wavelength);
  const left = Math.max(map.reach.left, middle - width / 2);
  const right = Math.min(map.reach.right, middle + width / 2);
  return {
    width: (Math.abs(map.wavelengthAt(right) - map.wavelengthAt(left)) * width) / (right - left),
    slit,
    pixel,
    focus,
  };
}

function curveHeight({ setup, curve }: Forecast): Finding[] {
  const line = tallestLine(curve.lines);
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
  const height = Math.abs(line.edgeDeflection) * Math.abs(curve.scale.perRadian);
  const thickness = Math.hypot(
    curve.scale.levelSlitHeight,
    FWHM * curve.scale.blurHeight,
    setup.camera.pixel,
  );
  const times = height / thickness;
  const said = `At the gap's edge the curve of ${nm(line.wavelength)} nm stands ${formatQuantity(Math.abs(line.edgeDeflection), "rad", { digits: 3 })} high, ${digits(times, 2)} times its own thickness`;
  const numbers = { value: times, threshold: 3, unit: "1", source: COMMON };
  if (line.halfGap === 0) {
    return [
      {
        code: "too-thin",
        level: "mind",
        sentence: `The vapour is too thin to darken ${nm(line.wavelength)} nm: no gap, hardly a bend.`,
        ...numbers,
        remedy: {
          text: "heat the bottom by 20 K",
          set: { "vessel.bottom": celsiusText(setup.vessel.wall.bottom + 20) },
        },
      },
    ];
  }
  if (times >= 3) return [{ code: "curve-height", level: "fine", sentence: `${said}.`, ...numbers }];
  const slitRules = curve.scale.levelSlitHeight > 0.6 * thickness;
  return [
    {
      code: "curve-low",
      level: "mind",
      sentence: `${said}: too little to be seen well.`,
      ...numbers,
      remedy: slitRules
        ? {
            text: "halve the level slit",
            set: { "path.levelSlit": plainText(setup.path.levelSlit / 2, 1e6, "um") },
          }
        : { text: "heat a longer length, or let a taller beam through to lessen the diffraction" },
    },
  ];
}

function gapWidth({ setup, curve }: Forecast): Finding[] {
  const line = tallestLine(curve.lines);
  if (line === undefined || line.halfGap === 0) return [];
  const blur = wavelengthBlur(setup, curve, line.wavelength);
  const times = line.halfGap / blur.width;
  const numbers = { value: times, unit: "1", source: `${COMMON} (half-gap 1 to 2 times the blur)` };
  const said = `The gap's half width at ${nm(line.wavelength)} nm is ${formatQuantity(line.halfGap, "m", { digits: 3 })}, ${digits(times, 2)} times the blur in wavelength`;
  if (times < 0.7) {
    return [
      {
        code: "gap-unresolved",
        level: "mind",
        sentence: `${said}: the steep branches are smeared out.`,
        threshold: 0.7,
        ...numbers,
        remedy: sharper(setup, blur),
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
        remedy: {
          text: "cool the bottom by 15 K",
          set: { "vessel.bottom": celsiusText(setup.vessel.wall.bottom - 15) },
        },
      },
    ];
  }
  return [{ code: "gap-width", level: "fine", sentence: `${said}.`, threshold: 0.7, ...numbers }];
}

function pairApart({ setup, curve }: Forecast): Finding[] {
  const [first, second] = curve.lines;
  if (first === undefined || second === undefined) return [];
  const apart = second.wavelength - first.wavelength;
  const blur = wavelengthBlur(setup, curve, (first.wavelength + second.wavelength) / 2);
  const times = apart / blur.width;
  const gaps = first.halfGap + second.halfGap;
  if (gaps >= apart) {
    return [
      {
        code: "gaps-merge",
        level: "mind",
        sentence: `The two gaps have grown into one: together they are ${formatQuantity(gaps, "m", { digits: 3 })} wide, the lines stand ${formatQuantity(apart, "m", { digits: 3 })} apart.`,
        value: gaps / apart,
        threshold: 1,
        unit: "1",
        source: "half-gaps of this forecast",
        remedy: {
          text: "cool the bottom by 20 K",
          set: { "vessel.bottom": celsiusText(setup.vessel.wall.bottom - 20) },
        },
      },
    ];
  }
  const numbers = { value: times, threshold: 4, unit: "1", source: COMMON };
  if (times >= 4) {
    return [
      {
        code: "pair-apart",
        level: "fine",
        sentence: `The pair is clearly apart: ${digits(times, 2)} times the blur in wavelength.`,
        ...numbers,
      },
    ];
  }
  const apartBy = `${digits(times, 2)} times the blur in wavelength apart`;
  return [
    times >= 1
      ? {
          code: "pair-close",
          level: "mind",
          sentence: `The pair is told apart, yet it stands only ${apartBy}: the branch between the lines is smeared.`,
          ...numbers,
          remedy: sharper(setup, blur),
        }
      : {
          code: "pair-unresolved",
          level: "mind",
          sentence: `The pair is not resolved: it stands ${apartBy}.`,
          ...numbers,
          remedy: sharper(setup, blur),
        },
  ];
}

/** What would lessen the blur most. */
function sharper(setup: Setup, blur: Blur): Remedy {
  const { path, vessel, camera } = setup;
  if (blur.slit >= Math.max(blur.pixel, blur.focus)) {
    return {
      text: "halve the plumb slit, or take a prism with more dispersion",
      set: { "path.plumbSlit": plainText(path.plumbSlit / 2, 1e6, "um") },
    };
  }
  if (blur.pixel >= blur.focus)
    return { text: "take smaller pixels", set: { "camera.pixel": plainText(camera.pixel / 2, 1e6, "um") } };
  const wide = Math.min(2 * path.beamWidth, 0.6 * vessel.bore);
  if (FWHM * path.defocus > 0.7 * blur.focus) {
    return { text: "focus better", set: { "path.defocus": plainText(path.defocus / 2, 1e6, "um") } };
  }
  if (wide > 1.2 * path.beamWidth) {
    return {
      text: "let a wider beam through, since its edges diffract",
      set: { "path.beamWidth": plainText(wide, 1e3, "mm") },
    };
  }
  return { text: "take a prism with more dispersion" };
}

/** A part of the blur with this share of its square rules alone. */
const RULES = 0.75;

/** Which of slit, pixel and focus takes the resolution. */
function blurSpent({ setup, curve }: Forecast): Finding[] {
  const line = tallestLine(curve.lines);
  if (line === undefined) return [];
  const blur = wavelengthBlur(setup, curve, line.wavelength);
  const total = blur.slit ** 2 + blur.pixel ** 2 + blur.focus ** 2;
  const parts = [
    ["the plumb slit", blur.slit],
    ["the pixels", blur.pixel],
    ["focus and diffraction", blur.focus],
  ] as const;
  const [worst, size] = [...parts].sort((a, b) => b[1] - a[1])[0];
  const share = size ** 2 / total;
  const list = parts
    .map(([name, length]) => `${name} ${formatQuantity(length, "m", { digits: 2 })}`)
    .join(", ");
  return [
    {
      code: "blur-spent",
      level: "fine",
      sentence: `The blur at ${nm(line.wavelength)} nm is ${formatQuantity(blur.width, "m", { digits: 2 })} wide; on the sensor ${list}: ${worst} ${worst === "the plumb slit" ? "takes" : "take"} ${share >= RULES ? "nearly all" : "most"} of it.`,
      value: share,
      threshold: RULES,
      unit: "1",
      source:
        "slit image, pixel pitch, and width at half maximum of focus with diffraction, joined in quadrature; that a part with three quarters of the square rules: common practice",
    },
  ];
}

/** Does the drawn curve stay on the sensor where it is still bright. */
export function inFrame({ setup, curve }: Forecast): Finding[] {
  const points = curvePoints(setup, curve);
  const { rows } = setup.camera;
  let bright = 0;
  let out = 0;
  for (let i = 0; i < points.row.length; i++) {
    if (points.transmission[i] < 0.5) continue;
    bright++;
    if (points.row[i] < 0 || points.row[i] > rows) out++;
  }
  const numbers = {
    value: out / Math.max(1, bright),
    threshold: 0,
    unit: "1",
    source: "curve of this forecast",
  };
  if (out === 0) {
    return [
      {
        code: "curve-in-picture",
        level: "fine",
        sentence: "The bright part of the curve stays inside the picture.",
        ...numbers,
      },
    ];
  }
  return [
    {
      code: "curve-leaves-picture",
      level: "mind",
      sentence: "The bright part of the curve runs out of the picture above or below.",
      ...numbers,
      remedy: { text: "use a shorter camera lens or a larger sensor" },
    },
  ];
}
