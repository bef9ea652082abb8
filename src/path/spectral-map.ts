/** Where each wavelength falls on the sensor, found by tracing rays through the disperser into a camera turned to the centre wavelength. */
import { cos, sin, tan } from "../numerics/elementary/index.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { PathInput, SpectralMap, SpectralReach } from "./api.ts";
import { positionTable } from "./position-table.ts";
import { type Disperser, disperserOf, placedDisperser } from "./disperser.ts";
import { pictureLean } from "./image-scale.ts";
import { colourSize, withinLenses } from "./lateral-colour.ts";
import { movedMap } from "./moved-map.ts";

/** Half field of the camera lens beyond which no lens of this kind draws, rad: common practice, no source. */
const HALF_FIELD = Math.PI / 6;
/** Wavelengths looked at when the reach is sought, m. */
const SHORTEST = 200e-9;
const LONGEST = 2500e-9;
/** Distance on the sensor that counts as none, m. */
const CLOSE = 1e-15;
/** Places on the sensor whose wavelengths a map keeps: a picture asks for a few hundred. */
const MOST_KEPT = 2048;
/** Field angle at which the curvature of the lines is measured, rad. */
const FIELD = 4e-3;

/**
 * Map between vacuum wavelength and position on the sensor.
 *
 * Direct-vision prism: Snell's law at every plane face, the outer crown's apex such that `undeviated` leaves undeviated. Grating: direction
 * cosines. The camera looks along the exit direction that `centreWavelength` has with the disperser in its place; x = f·tan(angle from there), positive towards longer waves.
 * Accuracy: that of the glass data (3e-6 in n: about 1e-5 of the distance between two wavelengths); positions are traced, not
 * interpolated; `wavelengthAt` inverts to 1e-9 of a pixel's worth (1e-15 m).
 * @throws Refusal where the centre wavelength does not come through the disperser, or where a wavelength or position outside
 *   the reach is asked for
 */
export function spectralMap(path: PathInput): SpectralMap {
  const { disperser, centreWavelength: centre, cameraFocalLength, plumbSlitOffset = 0 } = path;
  const map =
    disperser.kind === "linear"
      ? linearMap(centre, disperser.wavelengthPerLength)
      : tracedMap(
          withinLenses(disperserOf(disperser), path),
          centre,
          cameraFocalLength,
          "turn" in disperser ? placedDisperser(disperser).angle(centre, 0) : undefined,
          colourSize(path, 0)?.width,
        );
  const lean = pictureLean(path, map.stretch);
  if (plumbSlitOffset === 0 && lean === 0) return map;
  // Stored upright, the picture shows the slit on the side where the camera sees it; the disperser stretches what comes off its axis.
  const relay = cameraFocalLength / path.secondCollimatorFocalLength;
  const scale = cos(lean) * (1 - tan(lean) * tan(path.levelSlitTilt));
  return movedMap(map, plumbSlitOffset * relay * map.stretch, scale);
}

/**
 * The same for any disperser, e.g. one built from a train of faces of one's own.
 * @param centre vacuum wavelength on the middle of the sensor, m
 * @param focalLength camera lens, m
 * @param lookingAt direction in which the camera looks, rad; default where `centre` leaves
 * @param size how large each colour is drawn, over the one in focus; default all alike
 */
export function tracedMap(
  disperser: Disperser,
  centre: number,
  focalLength: number,
  lookingAt?: number,
  size?: (wavelength: number) => number,
): SpectralMap {
  const axis = lookingAt ?? disperser.angle(centre, 0);
  if (Number.isNaN(axis) || centre < disperser.shortest || centre > disperser.longest) {
    throw new Refusal({
      code: "centre-wavelength-lost",
      field: "path.centreWavelength",
      received: nanometres(centre),
      expected: "a wavelength that comes through the disperser",
      hint: Number.isNaN(axis) ? `here: ${disperser.limit}` : "the published index of the glass ends before",
    });
  }
  const step = 1e-9;
  const redward = disperser.angle(centre + step, 0) - disperser.angle(centre - step, 0);
  if (!(Math.abs(redward) > 0)) {
    throw new Refusal({
      code: "no-dispersion",
      field: "path.disperser",
      received: "a disperser that does not part the colours at the centre wavelength",
      expected: "two glasses that differ, or a grating order other than 0",
    });
  }
  const sign = Math.sign(redward);
  const raw = (wavelength: number): number => {
    const angle = (disperser.angle(wavelength, 0) - axis) * sign;
    if (!(Math.abs(angle) <= HALF_FIELD)) return NaN;
    const x = focalLength * tan(angle);
    return size === undefined ? x : x * size(wavelength);
  };
  const middle = raw(centre);
  if (Number.isNaN(middle)) {
    throw new Refusal({
      code: "centre-wavelength-lost",
      field: "path.disperser.turn",
      received: `a turn that takes ${nanometres(centre)} out of the camera lens's field or into total reflection`,
      expected: "a smaller turn",
    });
  }
  const blue = limitOf(raw, disperser, centre, -1);
  const red = limitOf(raw, disperser, centre, 1);
  const reach: SpectralReach = {
    shortest: blue.wavelength,
    longest: red.wavelength,
    left: raw(blue.wavelength),
    right: raw(red.wavelength),
    leftLimit: blue.why,
    rightLimit: red.why,
  };
  const table = positionTable(raw, reach.shortest, reach.longest);
  const found = new Map<number, number>();
  return {
    position(wavelength) {
      if (!(wavelength >= reach.shortest && wavelength <= reach.longest)) throw outside(wavelength, reach);
      return raw(wavelength);
    },
    positions(wavelengths, out) {
      for (let i = 0; i < wavelengths.length; i++) {
        const w = wavelengths[i];
        if (!(w >= reach.shortest && w <= reach.longest)) throw outside(w, reach);
        out[i] = table.at(w);
      }
    },
    wavelengthAt(position) {
      // Picture after picture asks for the same places, and each takes a dozen rays to find.
      const known = found.get(position);
      if (known !== undefined) return known;
      const wavelength = invert(raw, reach, position);
      if (found.size >= MOST_KEPT) found.clear();
      found.set(position, wavelength);
      return wavelength;
    },
    smile: smileOf(disperser, centre, axis, sign, focalLength, middle),
    reach,
    stretch: Math.abs(disperser.angle(centre, 1e-5) - disperser.angle(centre, -1e-5)) / 2e-5,
  };
}

function linearMap(centre: number, perLength: number): SpectralMap {
  if (!(perLength > 0)) {
    throw new Refusal({
      code: "no-dispersion",
      field: "path.disperser.wavelengthPerLength",
      received: String(perLength),
      expected: "a length of wavelength per length on the sensor above 0",
    });
  }
  const reach: SpectralReach = {
    shortest: SHORTEST,
    longest: LONGEST,
    left: (SHORTEST - centre) / perLength,
    right: (LONGEST - centre) / perLength,
    leftLimit: "200 nm, the shortest wavelength drawn",
    rightLimit: "2500 nm, the longest wavelength drawn",
  };
  return {
    position(wavelength) {
      if (!(wavelength >= reach.shortest && wavelength <= reach.longest)) throw outside(wavelength, reach);
      return (wavelength - centre) / perLength;
    },
    positions(wavelengths, out) {
      for (let i = 0; i < wavelengths.length; i++) out[i] = this.position(wavelengths[i]);
    },
    wavelengthAt(position) {
      if (!(position >= reach.left && position <= reach.right)) throw beyond(position, reach);
      return centre + perLength * position;
    },
    smile: 0,
    reach,
    stretch: 1,
  };
}

/** Last wavelength that is drawn on one side: stepped outward by 1 nm, then halved to 1e-15 m. */
function limitOf(
  raw: (w: number) => number,
  disperser: Disperser,
  centre: number,
  side: 1 | -1,
): { wavelength: number; why: string } {
  const formula = side < 0 ? Math.max(SHORTEST, disperser.shortest) : Math.min(LONGEST, disperser.longest);
  let good = centre;
  let position = raw(centre);
  for (;;) {
    const next = good + side * 1e-9;
    if (side * (next - formula) >= 0)
      return { wavelength: formula, why: "the end of the wavelengths for which the index is known" };
    const x = raw(next);
    if (Number.isNaN(x))
      return {
        wavelength: halved(raw, good, next),
        why: Number.isNaN(disperser.angle(next, 0))
          ? disperser.limit
          : "the edge of the camera lens's field (30 deg off its axis)",
      };
    // A spectrum that turns back on itself (two colours in one place) ends where it turns.
    if (side * (x - position) <= 0)
      return { wavelength: good, why: "the spectrum turns back on itself there" };
    good = next;
    position = x;
  }
}

/** Border between a wavelength that is drawn and one that is not, to 1e-15 m, on the drawn side. */
function halved(raw: (w: number) => number, drawn: number, lost: number): number {
  let good = drawn;
  let bad = lost;
  while (Math.abs(bad - good) > 1e-15) {
    const middle = (good + bad) / 2;
    if (Number.isNaN(raw(middle))) bad = middle;
    else good = middle;
  }
  return good;
}

/** Root between the ends of the reach: secant steps that keep their bracket, halving every third step. */
function invert(raw: (w: number) => number, reach: SpectralReach, position: number): number {
  if (!(position >= reach.left && position <= reach.right)) throw beyond(position, reach);
  let low = reach.shortest;
  let high = reach.longest;
  let fLow = reach.left - position;
  let fHigh = reach.right - position;
  for (let i = 0; i < 200 && fLow < -CLOSE && fHigh > CLOSE; i++) {
    const middle = (low + high) / 2;
    const secant = low - (fLow * (high - low)) / (fHigh - fLow);
    const guess = i % 3 === 2 || !(secant > low && secant < high) ? middle : secant;
    if (guess <= low || guess >= high) break;
    const f = raw(guess) - position;
    if (f < 0) {
      low = guess;
      fLow = f;
    } else {
      high = guess;
      fHigh = f;
    }
  }
  return -fLow < fHigh ? low : high;
}

/** Bow of a spectral line: x = smile·y², from rays a little above and below the plane of dispersion. */
function smileOf(
  disperser: Disperser,
  centre: number,
  axis: number,
  sign: number,
  focalLength: number,
  middle: number,
): number {
  const d = new Float64Array([0, sin(FIELD), cos(FIELD)]);
  if (!disperser.direction(centre, d)) return 0;
  const along = d[2] * cos(axis) + d[0] * sin(axis);
  const across = d[0] * cos(axis) - d[2] * sin(axis);
  const x = (sign * focalLength * across) / along - middle;
  const y = (focalLength * d[1]) / along;
  return x / (y * y);
}

function outside(wavelength: number, reach: SpectralReach): Refusal {
  const short = wavelength < reach.shortest;
  return new Refusal({
    code: "wavelength-out-of-reach",
    field: "wavelength",
    received: nanometres(wavelength),
    expected: `a vacuum wavelength from ${nanometres(reach.shortest)} to ${nanometres(reach.longest)}`,
    hint: `beyond lies ${short ? reach.leftLimit : reach.rightLimit}`,
  });
}

function beyond(position: number, reach: SpectralReach): Refusal {
  return new Refusal({
    code: "position-out-of-reach",
    field: "position",
    received: `${(position * 1e3).toFixed(3)} mm`,
    expected: `a place on the sensor from ${(reach.left * 1e3).toFixed(3)} mm to ${(reach.right * 1e3).toFixed(3)} mm from its middle`,
    hint: `beyond lies ${position < reach.left ? reach.leftLimit : reach.rightLimit}`,
  });
}

function nanometres(wavelength: number): string {
  return `${(wavelength * 1e9).toFixed(3)} nm`;
}
