import { expect, it } from "vitest";
import type { PathInput } from "./api.ts";
import { beamStrips } from "./curve-bundle.ts";
import { beamInputs, mapInputs } from "./kept.ts";
import { spectralMap } from "./spectral-map.ts";
import { USUAL_RAIL } from "./usual-rail.ts";

const path: PathInput = {
  rail: USUAL_RAIL,
  source: { kind: "halogen" },
  lampImage: true,
  condenserDiameter: 6e-3,
  levelSlit: 40e-6,
  plumbSlit: 20e-6,
  plumbSlitTilt: 0.02,
  collimatorFocalLength: 0.3,
  focalLength: 0.6,
  secondCollimatorFocalLength: 0.3,
  cameraFocalLength: 0.3,
  disperser: { kind: "prism", glass: "620364", apex: 1, leastAt: 500e-9 },
  centreWavelength: 500e-9,
  lens: { kind: "singlet", glass: "517642" },
  lateralColour: { kind: "lenses" },
  beamHeight: 2e-3,
  beamSize: 0.012,
  beamWidth: 0.012,
  stray: 0,
  cameraRoll: 0,
  levelSlitTilt: 0.01,
  defocus: 0,
  inverted: false,
};
const changes: readonly Partial<PathInput>[] = [
  ...Object.entries(path)
    .filter((entry): entry is [string, number] => typeof entry[1] === "number")
    .map(([name, value]) => ({ [name]: value === 0 ? 1e-3 : value * 1.01 })),
  ...Object.keys(USUAL_RAIL).map((name) => ({ rail: { ...USUAL_RAIL, [name]: 0.21 } })),
  { plumbSlitOffset: 1e-4 },
  { plumbSlitTilt: 0 },
  { inverted: true },
  { aperture: "round" },
  { condenserOffset: { right: 0, up: 1e-3 } },
  { lampOffset: { right: 0, up: 1e-3 } },
  { lens: { kind: "singlet", glass: "728284" } },
  { sharpAt: 520e-9 },
  { mirrorCollimator: true },
  { lateralColour: { kind: "stated", perWavelength: 1e5 } },
  { disperser: { kind: "prism", glass: "620364", apex: 1.01, leastAt: 500e-9 } },
  { lampImage: false },
];
// Without lateral colour and lean the map looks at less; with the lamp's image left out the beam does.
const plain: PathInput = { ...path, plumbSlitTilt: 0, lampImage: false };
const bare: PathInput = Object.fromEntries(
  Object.entries(plain).filter(([name]) => name !== "lateralColour"),
) as unknown as PathInput;

const mapOf = (each: PathInput): number[] =>
  [485e-9, 500e-9, 515e-9].map((w) => spectralMap(each).position(w));
const beamOf = (each: PathInput): number[] => {
  const { heights, weights } = beamStrips(each, 7);
  return [...heights, ...weights];
};

it("whatever changes a map or a beam changes what they are kept by", () => {
  let [maps, beams] = [0, 0];
  for (const base of [path, bare]) {
    for (const change of changes) {
      const other = { ...base, ...change };
      if (JSON.stringify(mapOf(other)) !== JSON.stringify(mapOf(base))) {
        maps++;
        expect(JSON.stringify(mapInputs(other)), Object.keys(change).join()).not.toBe(
          JSON.stringify(mapInputs(base)),
        );
      }
      if (JSON.stringify(beamOf(other)) !== JSON.stringify(beamOf(base))) {
        beams++;
        expect(JSON.stringify(beamInputs(other)), Object.keys(change).join()).not.toBe(
          JSON.stringify(beamInputs(base)),
        );
      }
    }
  }
  expect(maps).toBeGreaterThan(15);
  expect(beams).toBeGreaterThan(8);
});

it("a slit opened or a lamp changed keeps the map and the beam", () => {
  const other: PathInput = {
    ...bare,
    levelSlit: 1e-4,
    plumbSlit: 1e-4,
    source: { kind: "led" },
    defocus: 1e-5,
  };
  expect(mapInputs(other)).toEqual(mapInputs(bare));
  expect(beamInputs(other)).toEqual(beamInputs(bare));
});
