/** Findings about the light: exposure, and what lamp and camera do to the colours in question. */
import planning from "../../data/planning.json" with { type: "json" };
import { bandHeads } from "../reference/index.ts";
import { usualTemperature } from "../path/index.ts";
import type { Forecast } from "../setup/index.ts";
import type { Finding, Remedy } from "./finding.ts";
import { COMMON, nm, plainText } from "./words.ts";

export function lightFindings(forecast: Forecast): Finding[] {
  return [
    ...exposure(forecast),
    ...lampTemperature(forecast),
    ...lampLines(forecast),
    ...cameraFilter(forecast),
  ];
}

function exposure({ setup }: Forecast): Finding[] {
  const { camera } = setup;
  const electrons = camera.rate * camera.exposure;
  const share = electrons / camera.fullWell;
  const times = (wanted: number) => ({
    "camera.exposure": plainText((camera.exposure * wanted) / share, 1e3, "ms"),
  });
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
        remedy: { text: "shorten the exposure", set: times(0.8) },
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
        ...(electrons > 0
          ? { remedy: { text: "expose longer", set: times(0.6) } }
          : { remedy: { text: "give a signal rate" } }),
      },
    ];
  }
  const noise = Math.sqrt(electrons + camera.readNoise ** 2) / electrons;
  return [
    {
      code: "light-enough",
      level: "fine",
      sentence: `The cold line fills ${Math.round(100 * share)} % of the full well, noise ${(100 * noise).toPrecision(2)} % per pixel.`,
      value: share,
      threshold: 1,
      unit: "1",
      source: "signal rate, full well and read noise of the setup",
    },
  ];
}

const LAMPS = { halogen: "tungsten filament", "carbon-arc": "carbon arc", "xenon-arc": "xenon arc" };

/** A temperature that was another lamp's: the kind was changed, the number stayed. */
function lampTemperature({ setup }: Forecast): Finding[] {
  const { kind, temperature } = setup.path.source;
  if (temperature === undefined || (kind !== "halogen" && kind !== "carbon-arc" && kind !== "xenon-arc"))
    return [];
  const { from, to } = planning.lamp_temperatures[kind];
  if (temperature >= from && temperature <= to) return [];
  const usual = usualTemperature(kind);
  return [
    {
      code: "lamp-temperature",
      level: "mind",
      sentence: `The lamp has ${Math.round(temperature)} K, a ${LAMPS[kind]} ${from} to ${to} K: brightness and colours are not this lamp's.`,
      value: temperature,
      threshold: temperature < from ? from : to,
      unit: "K",
      source: planning.lamp_temperatures.source,
      remedy: { text: `take ${usual} K`, set: { "path.source.temperature": `${usual} K` } },
    },
  ];
}

/** A halogen lamp in the place of the present one, whose temperature it does not share. */
function halogenInstead(temperature: number | undefined): Remedy {
  return {
    text: "take a halogen lamp",
    set: {
      "path.source.kind": "halogen",
      ...(temperature === undefined ? {} : { "path.source.temperature": `${usualTemperature("halogen")} K` }),
    },
  };
}

/** Distance to the violet of a band's head within which its light stands, m. */
const BAND = 10e-9;

/** Lines and bands of the lamp itself beside the lines of the metal. */
function lampLines({ setup, curve }: Forecast): Finding[] {
  const shown = curve.lines.map((line) => line.wavelength);
  if (setup.path.source.kind === "xenon-arc" && shown.some((w) => w > 440e-9 && w < 500e-9)) {
    return [
      {
        code: "lamp-has-lines",
        level: "mind",
        sentence: "A xenon arc has lines of its own between 450 and 492 nm, right beside the metal's.",
        source: "shape of the xenon arc in data/sources.json (value from memory)",
        remedy: halogenInstead(setup.path.source.temperature),
      },
    ];
  }
  if (setup.path.source.kind !== "carbon-arc") return [];
  const heads = bandHeads("CN-violet-bands").map((head) => head.wavelength);
  const { from, to } = planning.carbon_arc_group;
  const met = shown.filter(
    (w) => heads.some((head) => w < head + 1e-9 && w > head - BAND) || (w > from * 1e-9 && w < to * 1e-9),
  );
  if (met.length === 0) return [];
  return [
    {
      code: "lamp-has-bands",
      level: "mind",
      sentence: `The carbon arc's cyanogen bands lie over ${met.map(nm).join(" and ")} nm.`,
      source:
        "heads of the CN violet system: Pearse and Gaydon, data/lamp-light.json; the group near 456 nm from memory",
      remedy: halogenInstead(setup.path.source.temperature),
    },
  ];
}

function cameraFilter({ curve }: Forecast): Finding[] {
  if (!curve.lines.some((line) => line.wavelength > 700e-9)) return [];
  return [
    {
      code: "infrared-filter",
      level: "mind",
      sentence:
        "These lines lie beyond 700 nm: the eye hardly sees them, and a camera only with its infrared filter taken out.",
      value: Math.max(...curve.lines.map((line) => line.wavelength)),
      threshold: 700e-9,
      unit: "m",
      source: COMMON,
      remedy: { text: "use a camera without infrared filter" },
    },
  ];
}
