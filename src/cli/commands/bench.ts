import { Command } from "commander";
import { Refusal } from "../../quantity/index.ts";
import { benchDistances, benchFigure, type Telling } from "../../report/index.ts";
import { type CurveStage, curveStage, type Setup, vapourStage } from "../../setup/index.ts";
import { COARSE_GRID } from "../../vessel/index.ts";
import { writeAll } from "../files.ts";
import { print, table, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";

interface Options {
  readonly output?: string;
  readonly scale: string;
  readonly set: string[];
  readonly json?: boolean;
}

export function benchCommand(): Command {
  return new Command("bench")
    .description(
      "the bench drawn to scale from the side and from above, with traced rays, and the list of its distances",
    )
    .argument("<setup>", "setup file")
    .option("-o, --output <folder>", "folder for bench.svg and distances.csv")
    .option("--scale <ratio>", "scale along the light, such as 1:10", "1:10")
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "the distances as one JSON document on stdout")
    .action(async (path: string, options: Options) => {
      const { setup } = await openSetup(path, options.set);
      const scale = scaleOf(options.scale);
      const distances = benchDistances(setup.path, setup.vessel);
      if (options.output !== undefined) {
        await writeAll(options.output, {
          "bench.svg": benchSvg(setup, scale),
          "distances.csv": csvOf(distances),
        });
      }
      print(
        options.json === true
          ? toJson({ scale, distances, provenance: provenanceOf(setup) })
          : words(distances, options.output, scale),
      );
    });
}

function scaleOf(text: string): number {
  const scale = Number(/^\s*1\s*:\s*(\d+(?:\.\d+)?)\s*$/.exec(text)?.[1]);
  if (scale >= 1 && scale <= 1000) return scale;
  throw new Refusal({
    code: "bad-scale",
    field: "--scale",
    received: JSON.stringify(text),
    expected: 'a scale from 1:1 to 1:1000, such as "1:10"',
  });
}

/** @param scale n of a scale 1:n along the light */
export function benchSvg(setup: Setup, scale: number, telling?: Telling): string {
  const curve = curveStage(setup, vapourStage(setup, { grid: COARSE_GRID, tolerance: 1e-5 }));
  const { camera } = setup;
  return benchFigure({
    title: setup.title,
    path: setup.path,
    vessel: setup.vessel,
    map: curve.map,
    sensor: { height: camera.rows * camera.pixel, width: camera.columns * camera.pixel },
    colours: coloursOf(curve),
    scale,
    ...(telling === undefined ? {} : { words: telling.language.bench, retell: telling.retell }),
  });
}

/** Paper between the margins of a page less the room around the drawing, m. */
const PAPER = 0.147;

/** The first round scale 1:n at which the bench fits on a page. */
export function scaleForPage({ path, vessel }: Setup): number {
  const distances = benchDistances(path, vessel);
  const length = (distances.at(-1)?.from ?? 0) - (distances[0]?.from ?? 0);
  return [5, 10, 15, 20, 25, 30, 40, 50, 100].find((n) => length / n <= PAPER) ?? 200;
}

/** Both ends of the spectrum in view, and the two wavelengths with some light left that are bent most, up and down. */
function coloursOf({ bundle, map, scale }: CurveStage): { wavelength: number; bend: number }[] {
  const { wavelengths, deflection, transmission, weights } = bundle;
  const n = wavelengths.length;
  const m = (weights.length - 1) / 2;
  const bendAt = (i: number): number => deflection[m * n + i];
  let up = 0;
  let down = 0;
  for (let i = 0; i < n; i++) {
    if (transmission[m * n + i] < 0.5) continue;
    if (bendAt(i) > bendAt(up)) up = i;
    if (bendAt(i) < bendAt(down)) down = i;
  }
  const inView = (i: number): boolean =>
    wavelengths[i] >= map.reach.shortest && wavelengths[i] <= map.reach.longest && scale.perRadian !== 0;
  const edge = Math.round(n * 0.02);
  return [...new Set([edge, up, down, n - 1 - edge])]
    .filter(inView)
    .map((i) => ({ wavelength: wavelengths[i], bend: bendAt(i) }));
}

function csvOf(distances: ReturnType<typeof benchDistances>): string {
  const mm = (metres: number): string => (metres * 1e3).toFixed(2);
  const rows = distances.map((d) =>
    [d.name, mm(d.from), d.next === null ? "" : mm(d.next), mm(d.length), mm(d.height), mm(d.width)].join(
      ",",
    ),
  );
  return ["element,from_lamp_mm,to_next_mm,length_mm,free_height_mm,free_width_mm", ...rows, ""].join("\n");
}

function words(
  distances: ReturnType<typeof benchDistances>,
  output: string | undefined,
  scale: number,
): string {
  const mm = (metres: number): string => (metres * 1e3).toFixed(1);
  const rows = distances.map((d) => [
    d.name,
    mm(d.from),
    d.next === null ? "" : mm(d.next),
    mm(d.length),
    d.height < 1e-4 ? (d.height * 1e3).toFixed(3) : mm(d.height),
    d.width < 1e-4 ? (d.width * 1e3).toFixed(3) : mm(d.width),
  ]);
  return [
    table([["middles, mm", "from the lamp", "to the next", "length", "free height", "free width"], ...rows]),
    ...(output === undefined
      ? []
      : [`bench.svg at 1:${scale} (print it unscaled) and distances.csv stand in ${output}`]),
  ].join("\n");
}
