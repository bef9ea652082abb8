/** The figures of the page: each knows its curves, its axes and what it says in words. */
import { createMemo, type JSX } from "solid-js";
import { PLATE_MARGIN } from "../picture/plate.tsx";
import { interpolate } from "../picture/axes.ts";
import { bend, nanometres, percent, quantity, significant } from "../words/number.ts";
import { linesAt } from "../words/reading-at.ts";
import { sectionWords } from "../words/alternatives.ts";
import type { Sight } from "../worker/protocol.ts";
import { scaled, wavelengthAxis } from "./curves.ts";
import { Plot } from "./plot.tsx";
import type { FigureProps } from "./props.ts";
import { Sections } from "./sections.tsx";

export const FIGURES = ["bends", "gaps", "section", "velocity"] as const;
export type FigureId = (typeof FIGURES)[number];

/** Index and transmission under the plate, on the plate's own columns. */
export function IndexStrip(props: Omit<FigureProps, "large" | "theme">) {
  const curve = () => props.sight.curve;
  const index = createMemo(() => scaled(curve(), curve().refractivity, "n \u2212 1", "", 3));
  const column = () =>
    props.view.cursor === null ? null : interpolate(curve().wavelength, curve().column, props.view.cursor);
  return (
    <Plot
      title="Index and transmission on the picture's own wavelengths"
      summary={indexWords(props.sight)}
      x={curve().column}
      xAxis={{ label: "column", unit: "", from: 0, to: props.sight.setup.camera.columns }}
      yAxis={index().axis}
      rightAxis={{ label: "light left", unit: "", from: 0, to: 1.02, ticks: 2 }}
      series={[
        { name: "light left", y: curve().transmission, ink: "copper", right: true },
        { name: "n \u2212 1", y: index().y, ink: "blue" },
      ]}
      height={104}
      zero
      bare
      margin={PLATE_MARGIN}
      cursor={column()}
      onCursor={(x) => props.onCursor(interpolate(curve().column, curve().wavelength, x))}
      readout={(i) => linesAt(curve(), i, props.view.wavelengths).join("; ")}
    />
  );
}

function indexWords(sight: Sight): string {
  const { refractivity, transmission } = sight.curve;
  let low = 0;
  let high = 0;
  for (let i = 0; i < refractivity.length; i++) {
    if (transmission[i] < 0.3) continue;
    low = Math.min(low, refractivity[i]);
    high = Math.max(high, refractivity[i]);
  }
  return `n − 1 runs from ${significant(low, 2)} on the blue side of a line to ${significant(high, 2)} on its red side where at least a third of the light is left; the light left falls to nothing at each line.`;
}

/** A number with the small figure that explains it. */
export interface FigureCard {
  readonly id: FigureId;
  readonly label: string;
  readonly value: string;
  readonly figure: (props: FigureProps) => JSX.Element;
}

export function cardsOf(sight: Sight): readonly FigureCard[] {
  const halves = sight.lines.filter((line) => line.halfGap !== null && line.halfGap > 0);
  const highest = Math.max(0, ...sight.lines.map((line) => Math.abs(line.edgeDeflection ?? 0)));
  return [
    {
      id: "bends",
      label: "bend at the gap's edge",
      value: halves.length === 0 ? "no gap" : quantity(highest, "rad", "mrad"),
      figure: (props) => <CurveFigure {...props} kind="bends" />,
    },
    {
      id: "gaps",
      label: halves.length > 1 ? "half-gaps, half the light" : "half-gap, half the light",
      value:
        halves.length === 0
          ? "no gap"
          : `${halves.map((line) => ((line.halfGap ?? 0) * 1e9).toFixed(3)).join(" · ")}\u202fnm`,
      figure: (props) => <CurveFigure {...props} kind="gaps" />,
    },
    {
      id: "section",
      label: Number.isFinite(sight.onAxis.scaleHeight)
        ? `density, over ${quantity(sight.onAxis.scaleHeight, "m", "mm")}`
        : "density, level",
      value: `${significant(sight.onAxis.density, 2)}\u202fm^\u22123`,
      figure: (props) => <Sections {...props} summary={sectionWords(props.sight)} />,
    },
    {
      id: "velocity",
      label: sight.zeroBetweenLines === null ? "phase velocity" : "zero between lines, vacuum",
      value: sight.zeroBetweenLines === null ? "no zero in view" : nanometres(sight.zeroBetweenLines, 3),
      figure: (props) => <CurveFigure {...props} kind="velocity" />,
    },
  ];
}

const KINDS = {
  bends: { title: "Deflection at the tube", label: "up", unit: "rad" },
  gaps: { title: "Light that passes the vapour", label: "light left", unit: "" },
  velocity: { title: "Phase velocity less the speed of light", label: "v/c \u2212 1", unit: "" },
} as const;

function CurveFigure(props: FigureProps & { readonly kind: keyof typeof KINDS }) {
  const curve = () => props.sight.curve;
  const kind = () => KINDS[props.kind];
  const x = createMemo(() => wavelengthAxis(curve(), props.view.wavelengths, props.large ? 10 : 3));
  const y = createMemo(() => {
    const ticks = props.large ? 8 : 3;
    switch (props.kind) {
      case "bends":
        return scaled(
          curve(),
          curve().deflection.map((rad) => rad * 1e3),
          "bend up",
          "mrad",
          ticks,
        );
      case "velocity":
        return scaled(
          curve(),
          curve().phaseVelocity.map((v) => v - 1),
          kind().label,
          "",
          ticks,
        );
      case "gaps":
        return { y: curve().transmission, axis: { label: kind().label, unit: "", from: 0, to: 1.02, ticks } };
    }
  });
  const shift = () =>
    props.view.cursor === null ? null : interpolate(curve().wavelength, x().x, props.view.cursor);
  return (
    <Plot
      title={kind().title}
      summary={summaryOf(props.kind, props.sight)}
      x={x().x}
      xAxis={x().axis}
      yAxis={y().axis}
      series={[{ name: kind().title, y: y().y, ink: props.kind === "gaps" ? "copper" : "blue" }]}
      marks={
        props.large
          ? props.sight.lines.map((line) => ({
              x: interpolate(curve().wavelength, x().x, line.wavelength),
              text: nanometres(line.wavelength, 2),
            }))
          : []
      }
      height={props.large ? 420 : 112}
      zero={props.kind !== "gaps"}
      margin={{ left: props.large ? 60 : 34, right: 8 }}
      cursor={shift()}
      {...(props.large
        ? {
            onCursor: (at: number) => props.onCursor(interpolate(x().x, curve().wavelength, at)),
            readout: (i: number) => linesAt(curve(), i, props.view.wavelengths).join("; "),
          }
        : {})}
    />
  );
}

function summaryOf(kind: keyof typeof KINDS, sight: Sight): string {
  const each = (say: (line: Sight["lines"][number]) => string): string =>
    sight.lines.map((line) => `at ${nanometres(line.wavelength)} vacuum ${say(line)}`).join("; ") ||
    "no line in view";
  switch (kind) {
    case "bends":
      return `Blue of each line the light bends ${sight.columnGradient < 0 ? "up" : "down"}, red of it the other way; where half the light is left, ${each((line) => bend(line.edgeDeflection ?? 0))}.`;
    case "gaps":
      return `Half-gaps: ${each((line) => `${((line.halfGap ?? 0) * 1e9).toFixed(3)} nm`)}. At the ends of the picture ${percent(sight.curve.transmission[0] ?? 0)} and ${percent(sight.curve.transmission.at(-1) ?? 0)} pass.`;
    case "velocity":
      return `Above zero waves run ahead of c, on the blue side of each line; the front of a signal travels at c all the same.${sight.zeroBetweenLines === null ? "" : ` The vapour's n − 1 is zero between the lines at ${nanometres(sight.zeroBetweenLines, 3)} vacuum.`}`;
  }
}
