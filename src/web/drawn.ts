/** What is drawn around the picture; a chunk of its own. */
export { BenchDrawing } from "./bench/drawing.tsx";
export { Cards } from "./figure/cards.tsx";
export { IndexStrip } from "./figure/figures.tsx";
export { TubeNumbers } from "./figure/tube-numbers.tsx";
