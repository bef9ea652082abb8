/** `index --layer`: the vapour before an ordinary spectroscope. */
import type { VapourState } from "../medium/index.ts";
import { type SpectroscopeView, throughSpectroscope } from "../path/index.ts";
import { parseQuantity, Refusal } from "../quantity/index.ts";

export interface SpectroscopeOptions {
  readonly layer: string;
  readonly lamp?: string;
  readonly mantle?: string;
  readonly resolution: string;
}

/** Refuses lengths and temperatures that are none. */
export function spectroscopeView(
  state: VapourState,
  options: SpectroscopeOptions,
  wavelengths: Float64Array,
): SpectroscopeView {
  const positive = (text: string, unit: string, field: string): number => {
    const value = parseQuantity(text, unit, field);
    if (value > 0) return value;
    throw new Refusal({ code: "bad-layer", field, received: text, expected: `more than 0 ${unit}` });
  };
  const core = { state, thickness: positive(options.layer, "m", "--layer") };
  return throughSpectroscope(
    {
      layers: options.mantle === undefined ? [core] : [core, mantleOf(options.mantle, state, positive)],
      ...(options.lamp === undefined ? {} : { source: positive(options.lamp, "K", "--lamp") }),
      resolution: positive(options.resolution, "m", "--resolution"),
    },
    wavelengths,
  );
}

/** "1500 K 1e18 m-3 5 mm": temperature, density, thickness. */
function mantleOf(
  text: string,
  state: VapourState,
  positive: (text: string, unit: string, field: string) => number,
): { state: VapourState; thickness: number } {
  const words = text.trim().split(/\s+/);
  if (words.length !== 6) {
    throw new Refusal({
      code: "bad-mantle",
      field: "--mantle",
      received: JSON.stringify(text),
      expected: 'temperature, density and thickness, such as "1500 K 1e18 m-3 5 mm"',
    });
  }
  const part = (at: number, unit: string): number =>
    positive(`${words[at]} ${words[at + 1]}`, unit, "--mantle");
  return {
    state: { ...state, temperature: part(0, "K"), density: part(2, "m-3") },
    thickness: part(4, "m"),
  };
}

export function spectroscopeSaid(view: SpectroscopeView, options: SpectroscopeOptions): string[] {
  const percent = (share: number): string => `${(100 * Math.abs(share)).toPrecision(3)} %`;
  if (options.lamp === undefined) {
    return [
      view.reversal > 0.005
        ? `without a lamp the line is bright and reversed in itself: its middle stands ${percent(view.reversal)} below its shoulders at a resolution of ${options.resolution}`
        : `without a lamp the line is bright, and not reversed in itself at a resolution of ${options.resolution}`,
    ];
  }
  const kind = view.contrast < 0 ? "darker" : "brighter";
  return [
    `before a lamp of ${options.lamp} the line is ${percent(view.contrast)} ${kind} than the spectrum beside it, at a resolution of ${options.resolution}`,
  ];
}
