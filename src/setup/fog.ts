/** The band of fog carried from the columns to what the camera will see: half-gap and edge deflection of each line. */
import { fogBand, type FogChance } from "../vessel/index.ts";
import type { MetalStage, VapourStage } from "./stages.ts";
import { type LineGap, lineGap } from "./gap.ts";

/** low ≤ high */
export type Band = readonly [low: number, high: number];

export interface LineBand {
  readonly line: string;
  readonly wavelength: number;
  /** m */
  readonly halfGap: Band;
  /** rad */
  readonly edgeDeflection: Band;
}

export interface ForecastFog {
  readonly chance: FogChance;
  /** p/p_sat(T) at mid-length on the beam, without fog */
  readonly supersaturation: number;
  /** middle of the beam: m⁻², m⁻³ */
  readonly columnDensity: Band;
  readonly columnGradient: Band;
  readonly lines: readonly LineBand[];
  /** how sure this is, in a sentence */
  readonly confidence: string;
}

const CONFIDENCE: Readonly<Record<FogChance, string>> = {
  none: "At this supersaturation fog is not expected without dust: the values without fog hold, the band is what fog would do.",
  possible:
    "Fog is possible: at which supersaturation it comes is not known for this metal, so either end of the band may be true.",
  likely:
    "Fog is likely: the density lies in the band at every threshold tried in a finer model with drops, the gradient too; which end is nearer is not known.",
};

/**
 * Band of the columns by `fogBand` and of the lines by the four corners of that band (density low and high, gradient
 * low and high), the vapour's own width following its density. The band is about the values without fog.
 */
export function forecastFog(stage: VapourStage, lines: readonly LineGap[]): ForecastFog {
  return stage.solution === undefined ? vapourFog(stage, lines) : noFog(stage);
}

/** A solution holds no fog: the band is the value itself. */
function noFog({ middle }: VapourStage): ForecastFog {
  const { columnDensity, columnGradient } = middle;
  return {
    chance: "none",
    supersaturation: 0,
    columnDensity: [columnDensity, columnDensity],
    columnGradient: [columnGradient, columnGradient],
    lines: [],
    confidence: "A solution holds no fog.",
  };
}

function vapourFog(stage: MetalStage, lines: readonly LineGap[]): ForecastFog {
  const m = (stage.columns.heights.length - 1) / 2;
  const supersaturation = stage.numbers.midSupersaturation;
  const band = fogBand(stage.field, stage.columns, supersaturation);
  const density: Band = [band.columnDensity.low[m], band.columnDensity.high[m]];
  const gradient: Band = [band.columnGradient.low[m], band.columnGradient.high[m]];
  const thin = { ...stage.state, density: band.saturated.effectiveDensity[m] };
  return {
    chance: band.chance,
    supersaturation,
    columnDensity: density,
    columnGradient: gradient,
    lines: lines.map((line) => {
      const named = { id: line.line, wavelength: line.wavelength };
      const found = [
        line,
        ...gradient.flatMap((g) => [
          lineGap(stage.state, named, stage.middle.columnDensity, g),
          lineGap(thin, named, band.saturated.columnDensity[m], g),
        ]),
      ];
      return {
        line: line.line,
        wavelength: line.wavelength,
        halfGap: ends(found.map((each) => each.halfGap)),
        edgeDeflection: ends(found.map((each) => each.edgeDeflection)),
      };
    }),
    confidence: CONFIDENCE[band.chance],
  };
}

function ends(values: readonly number[]): Band {
  return [Math.min(...values), Math.max(...values)];
}
