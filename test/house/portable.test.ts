/** One seed, one picture: what the language leaves to the engine stays out of the rooms between a setup and its picture. */
import { expect, it } from "vitest";
import { projectFiles, textOf } from "./tree.ts";

const ROOMS = ["quantity", "reference", "numerics", "medium", "vessel", "path", "picture", "setup"];
const sources = projectFiles().filter(
  (name) =>
    ROOMS.some((room) => name.startsWith(`src/${room}/`)) &&
    /\.(?:ts|as)$/.test(name) &&
    !/\.test\.ts$|\/testing\//.test(name),
);

/** Whether a line of code asks the engine for bits that it may choose: elementary functions, powers (but of 2 by a number written out), texts in a country's way. */
const CHOSEN =
  /\bMath\.(?:a?(?:sin|cos|tan)h?|atan2|exp|expm1|log|log1p|log2|log10|pow|cbrt|hypot)\b|(?<!\b2 )\*\*(?![/*])\s*\w|\b2 \*\* (?!-?\d)|\b(?:localeCompare|toLocale\w*|Intl)\b/;
const code = (line: string): string => line.replace(/^\s*\/?\*.*|\/\/.*|\/\*\*.*?\*\//, "");

it("no room on the way to a picture uses what engines work out differently; src/numerics/elementary has it", () => {
  expect(sources.length).toBeGreaterThan(150);
  const found = sources.flatMap((name) =>
    textOf(name)
      .split("\n")
      .flatMap((line, k) => (CHOSEN.test(code(line)) ? [`${name}:${k + 1}: ${line.trim()}`] : [])),
  );
  expect(found).toEqual([]);
});

it("the test sees what it must see", () => {
  for (const line of [
    "Math.exp(x)",
    "x ** 2",
    "2 ** n",
    "values.map(Math.log)",
    "a.localeCompare(b)",
    "y**0.5",
  ])
    expect(CHOSEN.test(code(line)), line).toBe(true);
  for (const line of ["Math.sqrt(x)", "2 ** -32", "/** Math.exp */", " * x ** 2", "exp(x)", "// Math.sin"])
    expect(CHOSEN.test(code(line)), line).toBe(false);
});
