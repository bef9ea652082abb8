export { faddeeva, faddeevaArray } from "./faddeeva.ts";
