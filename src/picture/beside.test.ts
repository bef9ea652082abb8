import { describe, expect, it } from "vitest";
import { coldBundle, imageScale, spectralMap } from "../path/index.ts";
import { plainBench } from "../path/testing/plain-bench.ts";
import { layBeside } from "./beside.ts";
import { renderLight } from "./light.ts";
import { createWorkspace, type Workspace } from "./workspace.ts";

const path = plainBench({});
const map = spectralMap(path);
const scale = imageScale(path, map);
const sensor = { pixel: 1e-5, columns: 37, rows: 25 };
const count = sensor.columns * sensor.rows;
const { left, right } = map.reach;
const wavelengths = Float64Array.from({ length: 50 }, (_, i) =>
  map.wavelengthAt(Math.max(left, Math.min(right, (i - 24.5) * 1e-5))),
);
const render = (workspace: Workspace): Float32Array =>
  renderLight(coldBundle(wavelengths), map, { ...scale, stray: 0.01 }, sensor, {
    workspace,
    into: "workspace",
  });
/** The cold line bent to the lower part of the picture. */
const beamAside = (workspace: Workspace): Float32Array => {
  const bundle = coldBundle(wavelengths);
  const deflection = bundle.deflection.map(() => -8e-5 / Math.abs(scale.perRadian));
  return renderLight({ ...bundle, deflection }, map, { ...scale, stray: 0.01 }, sensor, { workspace });
};
const other = Float32Array.from({ length: count }, (_, p) => (p % 7) / 6);

describe("layBeside", () => {
  it("shows the brighter of the light and a share of the other, each pixel by itself", () => {
    const workspace = createWorkspace();
    const own = render(workspace).slice();
    const both = layBeside(render(workspace), other, 0.4, workspace);
    expect(both).toHaveLength(count);
    both.forEach((light, p) => {
      expect(light).toBeCloseTo(Math.max(own[p], 0.4 * other[p]), 7);
    });
    expect(both.some((light, p) => light > own[p])).toBe(true);
    expect(both.some((light, p) => light > 0.5 && light === own[p])).toBe(true);
  });

  it("gives the same bits where only the rows that the other lies on are looked at", () => {
    for (const kernel of [true, false]) {
      const workspace = createWorkspace(kernel);
      const low = beamAside(workspace);
      const stretch = workspace.litStretch;
      expect(stretch.end - stretch.first).toBeLessThan(0.8 * count);
      expect(low.some((light, p) => light > 0.0101 && (p < stretch.first || p >= stretch.end))).toBe(false);
      const all = layBeside(render(workspace), low, 0.4, workspace).slice();
      expect(layBeside(render(workspace), low, 0.4, workspace, stretch)).toEqual(all);
      expect(all).not.toEqual(render(workspace));
    }
  });

  it("gives the same bits without the kernel, and leaves the next picture as it was", () => {
    const [fast, plain] = [createWorkspace(), createWorkspace(false)];
    expect(fast.kernel).toBeDefined();
    const before = render(fast).slice();
    const both = layBeside(render(fast), other, 0.3, fast).slice();
    expect(layBeside(render(plain), other, 0.3, plain)).toEqual(both);
    expect(render(fast)).toEqual(before);
  });
});
