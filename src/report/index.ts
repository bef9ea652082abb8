export { benchDistances, benchFigure, type BenchFigureOptions } from "./bench-figure.ts";
export { type FigureMark, indexFigure, type IndexFigureOptions } from "./index-figure.ts";
export { prismFigure } from "./prism-figure.ts";
