/** Checked values by path, put together as the camera. */
import { exp } from "../numerics/elementary/index.ts";
import { brightestRate, lampShare, type PathInput, spectralMap, type Table } from "../path/index.ts";
import type { CameraInput, SensorTraits } from "../picture/api.ts";
import type { Value } from "./value.ts";

type Values = ReadonlyMap<string, Value>;

/**
 * Every field of the camera that applies must be there. Gain shows as a full well that the converter reaches sooner; smoke before the first slit, as a rate
 * that is less by what it takes; lamp or condenser off the axis, as a stated rate that is less by what then misses slit and beam.
 */
export function cameraOf(values: Values, path: PathInput): CameraInput {
  const n = (name: string): number => values.get(`camera.${name}`) as number;
  const pixel = n("pixel");
  const columns = n("columns");
  const budget = values.get("camera.rateFrom") === "budget";
  const clear = budget
    ? brightestRate(
        { path, map: spectralMap(path), pixel, quantumEfficiency: n("quantumEfficiency") },
        pixel * columns,
      )
    : n("rate") * lampShare(path);
  const sensor = sensorOf(values);
  return {
    pixel,
    columns,
    rows: n("rows"),
    exposure: n("exposure"),
    rate: path.smoke === undefined ? clear : clear * exp(-path.smoke),
    fullWell: n("fullWell") / n("gain"),
    readNoise: n("readNoise"),
    blackLevel: n("blackLevel"),
    bitDepth: n("bitDepth") as 8 | 16,
    gamma: n("gamma"),
    seed: n("seed"),
    ...(sensor === undefined ? {} : { sensor }),
    screen: {
      width: n("screenWidth"),
      distance: n("screenDistance"),
      reflectance: n("screenReflectance"),
    },
  };
}

/** Undefined where the sensor only counts. */
function sensorOf(values: Values): SensorTraits | undefined {
  const own = (name: string): Value => values.get(`camera.${name}`);
  const response = own("response") as Table | undefined;
  const bits = own("converterBits") as number | undefined;
  const traits: SensorTraits = {
    filter: own("filter") as "none" | "bayer",
    infraredFilter: own("infraredFilter") as boolean,
    ...(response === undefined ? {} : { response }),
    ...(bits === undefined ? {} : { converterBits: bits }),
    darkCurrent: own("darkCurrent") as number,
    hotPixels: own("hotPixels") as number,
    hotCurrent: own("hotCurrent") as number,
    chip: own("chip") as number,
  };
  const { filter, infraredFilter, darkCurrent, hotPixels } = traits;
  const counts = filter === "none" && !infraredFilter && darkCurrent === 0 && hotPixels === 0;
  return counts && response === undefined && bits === undefined ? undefined : traits;
}
