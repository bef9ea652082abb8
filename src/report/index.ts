export { type FigureMark, indexFigure, type IndexFigureOptions } from "./index-figure.ts";
