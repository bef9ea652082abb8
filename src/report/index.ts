export { benchDistances, benchFigure, type BenchFigureOptions } from "./bench-figure.ts";
export { type FigureMark, indexFigure, type IndexFigureOptions } from "./index-figure.ts";
export { prismFigure } from "./prism-figure.ts";
export { beamFigure, crossFigure, longFigure, wallFigure, warmUpFigure } from "./vessel-figures.ts";
export { type Handout, handoutOf } from "./handout-html.ts";
export { type ReportedReading, runReportHtml, type RunReportInput } from "./run-report.ts";
export { correlationFigure, overlayFigure, residualFigure } from "./reading-figures.ts";
export { type Telling, tellingIn } from "./page.ts";
