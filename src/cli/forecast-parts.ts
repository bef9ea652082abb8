/** What a forecast can give beside its picture: ledger of the dark, signal along the curve, what an audience would see, cold and hot above one another. */
import {
  type Audience,
  asTheEyeSees,
  audienceOf,
  columnShares,
  encodePng,
  FATE_TINTS,
  FATE_WORDS,
  FATES,
  frameOfView,
  ledgerStrip,
  lightOfFrame,
  mosaicView,
  signalAlong,
  viewImage,
} from "../picture/index.ts";
import { lampImage, sharpness } from "../path/index.ts";
import {
  coldCurve,
  curveFog,
  curvePoints,
  type Forecast,
  frameOf,
  ledgerOf,
  lightOf,
} from "../setup/index.ts";
import { formatQuantity } from "../quantity/index.ts";
import { ledgerFigure } from "../report/index.ts";
import { table } from "./output.ts";

/** Rows of the ledger's strip. */
const STRIP = 120;
/** Rows of dark between two pictures. */
const BETWEEN = 8;

export interface Part {
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  /** entry of the summary */
  readonly summary: Readonly<Record<string, unknown>>;
  readonly words: string;
}

/** Picture as it looks: every wavelength in its own colour, or the camera's own colours where it has filters. */
export function viewOf({ setup, frame, curve }: Forecast): Uint8ClampedArray<ArrayBuffer> {
  const { camera } = setup;
  if (camera.sensor?.filter === "bayer") return mosaicView(frame, camera);
  const electrons = camera.rate * camera.exposure;
  const full = electrons > 0 ? camera.fullWell / electrons : 1;
  const light = lightOfFrame(frame, camera.gamma, camera.blackLevel, full);
  return viewImage(light, curve.map, camera, { roll: curve.scale.roll });
}

/** Shares of the light by wavelength (CSV and a strip in tints), and over the whole sensor. */
export function ledgerPart(result: Forecast): Part {
  const { book, totals, imbalance } = ledgerOf(result);
  const { setup, curve } = result;
  const rows = [["wavelength_vacuum_m", ...FATES].join(",")];
  for (let i = 0; i < book.wavelengths.length; i++) {
    const shares = FATES.map((fate) => book.shares[fate][i].toPrecision(8));
    rows.push([book.wavelengths[i].toPrecision(12), ...shares].join(","));
  }
  const strip = ledgerStrip(columnShares(book, curve.map, setup.camera), STRIP);
  const seen = lampImage(setup.path);
  const lamp = { ...seen, diameter: Number.isFinite(seen.diameter) ? seen.diameter : null };
  const png = encodePng(frameOfView(strip, setup.camera.columns, STRIP));
  const { columns, pixel } = setup.camera;
  const { map } = curve;
  const half = (columns * pixel) / 2;
  const [left, right] = [Math.max(map.reach.left, -half), Math.min(map.reach.right, half)];
  const figure = ledgerFigure(
    Buffer.from(png).toString("base64"),
    (nm) => map.position(nm / 1e9) / (columns * pixel) + 0.5,
    [map.wavelengthAt(left) * 1e9, map.wavelengthAt(right) * 1e9],
    FATES.map((fate) => ({ words: FATE_WORDS[fate], share: totals[fate], tint: FATE_TINTS[fate] })),
  );
  const named = FATES.map((fate) => [FATE_WORDS[fate], `${(100 * totals[fate]).toFixed(2)} %`]);
  return {
    files: {
      "ledger.csv": `${rows.join("\n")}\n`,
      "ledger.png": png,
      "ledger.svg": figure,
    },
    summary: { ledger: { totals, imbalance, lamp, tints: FATE_TINTS, words: FATE_WORDS } },
    words: table([["where the light of the sensor's width went", "share"], ...named]),
  };
}

/** What can be told apart at the first line in view, or in the middle of the picture: wavelengths, and deflections at the tube. */
export function sharpnessPart({ setup, curve }: Forecast) {
  const at = curve.lines[0]?.wavelength ?? setup.path.centreWavelength;
  const { wavelength, resolvingPower, deflection } = sharpness(setup.path, curve.map, setup.camera.pixel, at);
  return { at, wavelength, resolvingPower, deflection };
}

/** Electrons, noise and what a column tells of the height, along the curve. */
export function signalPart({ setup, curve, light }: Forecast): Part {
  const { camera } = setup;
  const signal = signalAlong(light, camera);
  const { reach } = curve.map;
  const rows = ["column_px,wavelength_vacuum_m,row_px,electrons,noise,signal_to_noise,height_error_px"];
  let best = 0;
  for (let c = 0; c < camera.columns; c++) {
    const x = (c + 0.5 - camera.columns / 2) * camera.pixel;
    if (x < reach.left || x > reach.right) continue;
    const error = signal.heightError[c];
    rows.push(
      [
        (c + 0.5).toFixed(1),
        curve.map.wavelengthAt(x).toPrecision(12),
        signal.row[c].toFixed(1),
        signal.electrons[c].toPrecision(6),
        signal.noise[c].toPrecision(6),
        signal.signalToNoise[c].toPrecision(6),
        Number.isFinite(error) ? error.toPrecision(6) : "",
      ].join(","),
    );
    if (signal.signalToNoise[c] > signal.signalToNoise[best]) best = c;
  }
  const most = signal.signalToNoise[best];
  return {
    files: { "signal.csv": `${rows.join("\n")}\n` },
    summary: {
      signal: { electrons: signal.electrons[best], noise: signal.noise[best], signalToNoise: most },
    },
    words: `signal to noise in one pixel of the brightest column: ${most.toPrecision(3)} (${Math.round(signal.electrons[best])} electrons)`,
  };
}

/** Between which deflections and transmissions each wavelength may lie where fog holds the vapour near saturation. */
export function fogPart({ setup, curve, vapour }: Forecast): Part {
  const points = curvePoints(setup, curve);
  const { deflectionLow, deflectionHigh, transmissionLow, transmissionHigh } = curveFog(
    setup,
    vapour,
    points,
  );
  const rows = [
    "wavelength_vacuum_m,deflection_low_rad,deflection_high_rad,transmission_low,transmission_high",
  ];
  let widest = 0;
  for (let i = 0; i < points.wavelength.length; i++) {
    const ends = [deflectionLow[i], deflectionHigh[i], transmissionLow[i], transmissionHigh[i]];
    rows.push([points.wavelength[i].toPrecision(12), ...ends.map((end) => end.toPrecision(8))].join(","));
    widest = Math.max(widest, deflectionHigh[i] - deflectionLow[i]);
  }
  return {
    files: { "fog.csv": `${rows.join("\n")}\n` },
    summary: {},
    words: `fog.csv: with fog the curve may lie up to ${formatQuantity(widest, "rad")} elsewhere`,
  };
}

/** The same light on a screen, as the setup's screen fields say. */
export function audiencePart({ setup, curve, light }: Forecast): Part {
  const { camera } = setup;
  const { screen } = camera;
  if (screen === undefined) throw new Error("a setup without a screen");
  const seen: Audience = audienceOf(setup.path, curve.map, camera, screen);
  const rows = ["wavelength_vacuum_m,illuminance_lx,luminance_cd_m-2,x,y"];
  for (let k = 0; k < seen.wavelength.length; k++) {
    rows.push(
      [
        seen.wavelength[k].toPrecision(10),
        seen.illuminance[k].toPrecision(5),
        seen.luminance[k].toPrecision(5),
        seen.x[k].toFixed(5),
        seen.y[k].toFixed(5),
      ].join(","),
    );
  }
  const view = viewImage(light, curve.map, camera, { colours: "eye", roll: curve.scale.roll });
  asTheEyeSees(view, seen.brightest.luminance);
  const { brightest, meanIlluminance, lineThickness, lineMinutes, adaptation, findings } = seen;
  return {
    files: {
      "screen.csv": `${rows.join("\n")}\n`,
      "screen.png": encodePng(frameOfView(view, camera.columns, camera.rows)),
    },
    summary: {
      screen: { ...screen, brightest, meanIlluminance, lineThickness, lineMinutes, adaptation, findings },
    },
    words: findings.join("\n"),
  };
}

/** The cold tube above the hot one, in one picture. */
export function comparePart(result: Forecast): Part {
  const { setup, curve } = result;
  const { columns, rows } = setup.camera;
  const cold = coldCurve(curve);
  const light = lightOf(cold, setup.camera);
  const frame = frameOf(light, setup.camera, cold);
  const both = new Uint8ClampedArray(columns * (2 * rows + BETWEEN) * 4);
  // A grey hairline between them, in the middle of the dark.
  both.fill(96, columns * (rows + BETWEEN / 2) * 4, columns * (rows + BETWEEN / 2 + 1) * 4);
  for (let p = 3; p < both.length; p += 4) both[p] = 255;
  both.set(viewOf({ ...result, curve: cold, light, frame }));
  both.set(viewOf(result), columns * (rows + BETWEEN) * 4);
  return {
    files: { "compare.png": encodePng(frameOfView(both, columns, 2 * rows + BETWEEN)) },
    summary: {},
    words: "compare.png: cold above, hot below",
  };
}
