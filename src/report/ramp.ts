/**
 * The ramp for densities and temperatures: from the ground of the page through copper to dark brown, lightness strictly
 * falling (rising in the dark themes), so that it reads in grey and to colour-blind eyes.
 */
type Stop = readonly [red: number, green: number, blue: number];

const RAMPS: Readonly<Record<string, readonly Stop[]>> = {
  paper: [
    [252, 248, 240],
    [236, 207, 176],
    [208, 145, 96],
    [169, 86, 31],
    [110, 48, 16],
    [52, 22, 10],
  ],
  lab: [
    [26, 22, 18],
    [70, 38, 22],
    [128, 66, 30],
    [190, 108, 58],
    [228, 164, 116],
    [250, 228, 204],
  ],
  red: [
    [8, 0, 0],
    [60, 0, 0],
    [120, 0, 0],
    [170, 0, 0],
    [215, 0, 0],
    [255, 0, 0],
  ],
};

/** 256 colours as 32-bit little-endian ABGR, opaque. */
export function rampFor(theme: string): Uint32Array {
  const stops = RAMPS[theme] ?? RAMPS["paper"];
  const table = new Uint32Array(256);
  for (let i = 0; i < 256; i++) {
    const at = (i / 255) * (stops.length - 1);
    const k = Math.min(stops.length - 2, Math.floor(at));
    const [a, b] = [stops[k], stops[k + 1]];
    const mix = (c: 0 | 1 | 2): number => Math.round(a[c] + (b[c] - a[c]) * (at - k));
    table[i] = (255 << 24) | (mix(2) << 16) | (mix(1) << 8) | mix(0);
  }
  return table;
}

/** CIE lightness of a ramp colour, 0…100, for the check that it falls strictly. */
export function lightness(abgr: number): number {
  const linear = (byte: number): number => {
    const c = byte / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  const y =
    0.2126 * linear(abgr & 255) + 0.7152 * linear((abgr >>> 8) & 255) + 0.0722 * linear((abgr >>> 16) & 255);
  return y <= 216 / 24389 ? (y * 24389) / 27 : 116 * Math.cbrt(y) - 16;
}
