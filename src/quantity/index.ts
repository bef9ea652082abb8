export type { Dimension } from "./dimension.ts";
export { dimensionCode, sameDimension } from "./dimension.ts";
export { expectationOf } from "./expectation.ts";
export type { FormatOptions } from "./format.ts";
export { formatQuantity, formatWithUncertainty, unitSymbol } from "./format.ts";
export type { AnyQuantity, UncertainQuantity } from "./parse.ts";
export { fromCoherent, parseAny, parseQuantity, parseWithUncertainty, toCoherent } from "./parse.ts";
export type { RefusalRecord } from "./refusal.ts";
export { Refusal, refusalSentence } from "./refusal.ts";
