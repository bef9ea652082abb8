/**
 * Prints, as JSON, the states of test/outside/vapour-index.test.ts with the components that the program gives for them:
 * the input of vapour_index.py, which see.
 */
import { vapourComponents, type VapourState } from "../../../src/medium/index.ts";

const states: readonly VapourState[] = [
  { element: "Na", density: 1.3e19, temperature: 500 },
  { element: "K", density: 5e20, temperature: 450 },
  { element: "K", density: 3.4e20, temperature: 560, gas: { species: "Ar", pressure: 5000 } },
  { element: "Rb", density: 2.6e20, temperature: 443.15 },
  { element: "Cs", density: 1.3e22, temperature: 490, gas: { species: "Ar", pressure: 5300 } },
  { element: "Cs", density: 1e19, temperature: 400, structure: "merged" },
  { element: "Sr", density: 4e20, temperature: 880 },
  { element: "Tl", density: 1e20, temperature: 1000 },
];

console.log(JSON.stringify(states.map((state) => ({ state, components: vapourComponents(state) }))));
