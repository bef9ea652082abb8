// temporary: removed before the page is finished
import type { Setup } from "../../setup/api.ts";
import type { ForeseeRequest, Sight } from "./protocol.ts";
import { valueAt } from "../state/setup-text.ts";
export function standIn(request: ForeseeRequest): Sight {
  const t = Number.parseFloat(String(valueAt(request.setup, "vessel.bottom") ?? "285"));
  const k = Math.exp((t - 285) * 0.03);
  const n = 2400, W = 1280, H = 800;
  const f64 = () => new Float64Array(n);
  const c = { wavelength: f64(), wavelengthAir: f64(), deflection: f64(), transmission: f64(), refractivity: f64(), absorption: f64(), phaseVelocity: f64(), groupIndex: f64(), column: f64(), row: f64(), colour: new Uint8Array(3 * n) };
  for (let i = 0; i < n; i++) {
    const nm = 453.2 + (9 * i) / (n - 1);
    const a = nm - 455.66, b = nm - 459.45;
    const r = k * (3.1e-6 * a / (a * a + 4e-4) + 0.75e-6 * b / (b * b + 4e-4)) - k * 5e-7;
    const al = k * (0.035 / (a * a + 1e-4) + 0.0085 / (b * b + 1e-4));
    c.wavelength[i] = nm * 1e-9; c.wavelengthAir[i] = (nm - 0.128) * 1e-9;
    c.refractivity[i] = r; c.absorption[i] = al; c.transmission[i] = Math.exp(-al * 0.4);
    c.deflection[i] = -r * 0.4 / 0.0157; c.phaseVelocity[i] = 1 / (1 + r); c.groupIndex[i] = 1 + Math.abs(r) * 455 / Math.max(0.02, Math.min(Math.abs(a), Math.abs(b)));
    c.column[i] = (i / (n - 1)) * W; c.row[i] = H / 2 - (c.deflection[i] * 0.4) / 2.4e-6;
    c.colour.set([70 + (nm - 455) * 2, 90 + (nm - 453) * 14, 255], 3 * i);
  }
  const rgba = new Uint8ClampedArray(W * H * 4);
  for (let p = 3; p < rgba.length; p += 4) rgba[p] = 255;
  for (let x = 0; x < W; x++) {
    const i = Math.round((x / (W - 1)) * (n - 1));
    const y = request.show === "cold" ? H / 2 : c.row[i]!, tr = request.show === "cold" ? 1 : c.transmission[i]!;
    for (let r = Math.max(0, Math.floor(y) - 30); r < Math.min(H, y + 30); r++) {
      const v = tr * Math.exp(-(((r - y) / 8) ** 2));
      const at = 4 * (r * W + x);
      for (let q = 0; q < 3; q++) rgba[at + q] = Math.max(rgba[at + q]!, v * c.colour[3 * i + q]!);
    }
  }
  const field = (columns: number, rows: number, width: number, height: number, f: (x: number, y: number) => number) => {
    const values = new Float32Array(columns * rows);
    for (let r = 0; r < rows; r++) for (let x = 0; x < columns; x++) values[r * columns + x] = f((x + 0.5) / columns * 2 - 1, 1 - (r + 0.5) / rows * 2);
    return { columns, rows, width, height, values };
  };
  const cross = (x: number, y: number) => (x * x + y * y > 1 ? NaN : 1.3e22 * k * (1 - 1.27 * Math.atan2(2 * y, 1 - x * x - y * y) / 1.571 * 0.8));
  const setup = { title: valueAt(request.setup, "title"), vessel: { bore: 0.04, heatedLength: 0.4, length: 0.8, element: "Cs", wall: { kind: "measured", bottom: t + 273.15, top: 428.15, ends: 333, hotStrip: 3.14 }, gas: "Ar", gasPressure: 5332 },
    medium: { element: "Cs" }, path: { source: { kind: "halogen", temperature: 3200 }, levelSlit: 3e-5, plumbSlit: 1.5e-5, collimatorFocalLength: 0.3, focalLength: 0.3, secondCollimatorFocalLength: 0.3, cameraFocalLength: 0.4, disperser: { kind: "direct-vision", crown: "517642", flint: "728284", flintApex: 1.745, undeviated: 5.893e-7, elements: 3, trains: 1 }, centreWavelength: 4.576e-7, beamHeight: 0, beamSize: 0.004, beamWidth: 0.004 },
    camera: { pixel: 2.4e-6, columns: W, rows: H } } as unknown as Setup;
  return {
    setup, precision: request.precision, picture: { columns: W, rows: H, rgba }, curve: c,
    lines: [{ label: "455.66", wavelength: 455.66e-9, halfGap: 1.4e-10 * Math.sqrt(k), edgeDeflection: 5.5e-4 }, { label: "459.45", wavelength: 459.45e-9, halfGap: 0.7e-10 * Math.sqrt(k), edgeDeflection: 2.7e-4 }],
    zeroBetweenLines: 457.11e-9, radPerRow: 6e-6, imageInverted: false, onAxis: { density: 1.3e22 * k, temperature: 490, scaleHeight: 0.0157 }, columnDensity: 5.2e21 * k, columnGradient: -3.3e23 * k, supersaturation: 4, rayleigh: 40, knudsen: 2e-5,
    cross: field(80, 80, 0.04, 0.04, cross), long: field(160, 40, 0.8, 0.04, (x, y) => cross(0, y) / (1 + Math.exp((Math.abs(x) - 0.5) * 30))), crossTemperature: field(80, 80, 0.04, 0.04, (x, y) => (x * x + y * y > 1 ? NaN : 500 - 60 * y)),
    findings: [{ code: "a", level: "fine", sentence: "The pair is clearly apart: 11 times the blur of the slit.", source: "s" }, { code: "b", level: "mind", sentence: "Fog is possible: supersaturation 4 at mid height. A top of 185 °C keeps 97 % of the bend.", source: "s", remedy: { text: "warm the top to 185 °C", set: { "vessel.top": "185 degC" } } }, { code: "c", level: "stop", sentence: "Cs and water free hydrogen, which may ignite or explode: no water joint over or inside the hot space, a dry pan below.", source: "DOE" }],
    cautions: [{ code: "mains", level: "mind", sentence: "Mains heaters on steel want earth, a residual-current breaker and an over-temperature cut-out apart from the controller; local codes and licensed practice decide.", source: "common practice, no source" }],
  };
}
