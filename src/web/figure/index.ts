export { Cards } from "./cards.tsx";
export { IndexStrip } from "./figures.tsx";
export { TubeNumbers } from "./tube-numbers.tsx";
