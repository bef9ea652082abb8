import { expect, it } from "vitest";
import { wallReadings } from "./balanced.ts";
import { coolingAdvice } from "./cooling-advice.ts";
import type { ShellInput } from "./shell-api.ts";
import { steadyShell } from "./steady-shell.ts";

const SHELL: ShellInput = {
  bore: 0.04,
  heatedLength: 0.3,
  length: 0.7,
  material: "steel-304",
  thickness: 1e-3,
  hotStrip: Math.PI,
  heater: { kind: "electric" },
  power: 120,
  topCooling: { kind: "still-air" },
  endCooling: { kind: "still-air" },
  room: 293.15,
};

it("finds for each cooling the power that holds the metal and the top that results: stronger cooling, more power, colder top", () => {
  const rows = coolingAdvice(SHELL, 560, 450, [{ kind: "still-air" }, { kind: "blown-air", speed: 6 }]);
  for (const { cooling, power, top } of rows) {
    const read = wallReadings(steadyShell({ ...SHELL, topCooling: cooling, power: power ?? 0 }));
    expect(Math.abs(read.bottom - 560)).toBeLessThan(0.2);
    expect(read.top).toBeCloseTo(top ?? 0, 3);
  }
  expect(rows[1].power).toBeGreaterThan(rows[0].power ?? Infinity);
  expect(rows[1].top).toBeLessThan(rows[0].top ?? 0);
  expect(rows.map((row) => row.enough)).toEqual(rows.map((row) => (row.top ?? Infinity) <= 450));
});

it("says where the metal is not reached", () => {
  const [row] = coolingAdvice(SHELL, 250, 200, [{ kind: "still-air" }]);
  expect(row).toMatchObject({ power: null, top: null, enough: false });
});

it("a steady shell found from a near one is the same", () => {
  const near = steadyShell(SHELL);
  const far = steadyShell({ ...SHELL, power: 135 });
  const fromNear = steadyShell({ ...SHELL, power: 135 }, near);
  let apart = 0;
  far.temperature.forEach((t, i) => {
    apart = Math.max(apart, Math.abs(t - fromNear.temperature[i]));
  });
  expect(apart).toBeLessThan(1e-4);
});
