/** Where metal settles and does harm: fog on the windows, a crust on the cold wall. */
import gases from "../../data/gases.json" with { type: "json" };
import { meltingPoint } from "../medium/pressure.ts";
import { sliceCentre } from "../numerics/polar-grid.ts";
import type { VesselWarning } from "./warning-api.ts";
import { metalBudget } from "./charge.ts";
import { supersaturationAt } from "./columns.ts";
import type { VapourField } from "./field.ts";
import { coldestPart } from "./wall.ts";

const { window_film: FILM, window_time: TIME, crust: CRUST } = gases.limits;

/** Supersaturation at a dry wall below which it is rounding of the wall's own temperatures. */
const JUST_SATURATED = 1.02;

/** Metal that would settle on a wall stated as dry: it would not stay dry. */
function dryWallWarnings(field: VapourField): VesselWarning[] {
  const worst = drySupersaturation(field);
  if (worst === undefined || worst.supersaturation < JUST_SATURATED) return [];
  const { element } = field.input;
  return [
    {
      code: "dry-wall-colder-than-dew-point",
      level: "mind",
      sentence: `The wall stated as dry is colder than the dew point of the ${element} beside it: at ${celsius(worst.temperature)}, ${shown(worst.z * 1e3)} mm from mid-length, the vapour is ${shown(worst.supersaturation)} times saturated, so metal settles there and the wall does not stay dry.`,
      value: worst.supersaturation,
      threshold: 1,
      source: "saturation pressure of the metal at the wall's temperature",
      remedy: { text: "state that part as wet, or keep it warmer than the metal" },
    },
  ];
}

/** Where a dry wall face is most supersaturated: p_metal/p_sat(T_wall), its temperature in K and its place in m; none without dry wall. */
export function drySupersaturation(
  field: VapourField,
): { readonly supersaturation: number; readonly temperature: number; readonly z: number } | undefined {
  const { wet, grid, wall, wallMoleFraction } = field;
  if (wet === undefined) return undefined;
  let worst: { supersaturation: number; temperature: number; z: number } | undefined;
  for (let w = 0; w < wet.length; w++) {
    if (wet[w] > 0) continue;
    const temperature = coldestPart(wall, w);
    const supersaturation = supersaturationAt(field, wallMoleFraction[w], temperature);
    if (worst === undefined || supersaturation > worst.supersaturation)
      worst = { supersaturation, temperature, z: sliceCentre(grid, Math.floor(w / grid.angular)) };
  }
  return worst;
}

/** Fogging of windows colder than the metal's dew point beside them, and solid metal that narrows the bore. */
export function settlingWarnings(field: VapourField): VesselWarning[] {
  const budget = metalBudget(field);
  const { element } = field.input;
  const window = field.wall.window;
  const warnings: VesselWarning[] = [];
  const film = budget.windowGrowth * TIME.value;
  if (film > FILM.value) {
    warnings.push({
      code: "window-fogging",
      level: "mind",
      sentence: `The windows at ${celsius(window)} are colder than the dew point of the ${element} beside them, ${celsius(budget.windowDewPoint)}: a film of up to ${shown(film * 1e9)} nm settles on them in an hour, and ${shown(FILM.value * 1e9)} nm is opaque.`,
      value: film,
      threshold: FILM.value,
      source: `${FILM.source}; growth by diffusion across half a bore, an upper bound`,
      remedy: {
        text: `keep the windows above ${celsius(budget.windowDewPoint + 20)}, or the wall beside them cooler`,
      },
    });
  }
  const crust = budget.crustGrowth * 3600;
  if (crust > 1e-6) {
    const grave = crust > CRUST.value;
    warnings.push({
      code: "solid-builds-up",
      level: grave ? "mind" : "fine",
      sentence: `Solid ${element} builds up on the wall colder than ${celsius(meltingPoint(element))}, fastest ${shown(Math.abs(budget.crustAt) * 1e3)} mm from mid-length: ${shown(crust * 1e3)} mm in an hour.`,
      value: crust,
      threshold: CRUST.value,
      source: CRUST.source,
      ...(grave
        ? {
            remedy: {
              text: "warm that part above the melting point, or fill more gas, which slows diffusion",
            },
          }
        : {}),
    });
  }
  return [...dryWallWarnings(field), ...warnings];
}

const celsius = (kelvin: number): string => `${Math.round(kelvin - 273.15)} °C`;

/** Three digits, powers of ten beyond 1e5 and below 1e-3. */
export function shown(value: number): string {
  return value !== 0 && (Math.abs(value) >= 1e5 || Math.abs(value) < 1e-3)
    ? value.toExponential(1)
    : String(Number(value.toPrecision(3)));
}
