import type { JSX } from "solid-js";
import { render } from "solid-js/web";
import { beforeAll, describe, expect, it } from "vitest";
import demo from "../../../examples/blue-twins.json" with { type: "json" };
import { EXPLAIN, numbersFor, PULSE_SENTENCES } from "../../words/index.ts";
import { leftOver, pseudo } from "../../words/testing/pseudo.ts";
import type { LeafProps } from "../leaf-props.ts";
import { foresee } from "../worker/foresee.ts";
import type { ForeseeRequest, Sight } from "../worker/protocol.ts";
import { factsOf, pulseOf } from "./answers.ts";
import { Formula } from "./formula.tsx";
import { formulaOf, type ViewId, VIEWS } from "./formulas.ts";
import { Gap } from "./gap.tsx";
import { Keep } from "./keep.tsx";
import { Layers } from "./layers.tsx";
import type { Motion } from "./motion.ts";
import { Oscillator } from "./oscillator.tsx";
import { Pair } from "./pair.tsx";
import { Strengths } from "./strengths.tsx";
import { TongueContext, tongueOf } from "./tongue.ts";
import { Velocities } from "./velocities.tsx";
import type { ViewProps } from "./view-props.ts";
import { Warming } from "./warming.tsx";

const strange = tongueOf(pseudo(EXPLAIN), numbersFor("de-DE"), pseudo(PULSE_SENTENCES));
const VIEW: Readonly<Record<ViewId, (props: ViewProps) => JSX.Element>> = {
  oscillator: Oscillator,
  gap: Gap,
  pair: Pair,
  strengths: Strengths,
  velocities: Velocities,
  layers: Layers,
  warming: Warming,
};
/** Signs of units, which every language writes alike. */
const SIGNS = ["nm", "mm", "mrad", "ps"];

let sight: Sight;
beforeAll(async () => {
  // jsdom lays nothing out and measures nothing.
  globalThis.ResizeObserver = class {
    observe(): void {}
    unobserve(): void {}
    disconnect(): void {}
  };
  const request: ForeseeRequest = {
    task: "foresee",
    setup: demo,
    show: "hot",
    precision: "coarse",
    red: false,
    colours: "camera",
    tints: false,
    minute: null,
    wanted: "all",
  };
  const answer = await foresee(request);
  if (answer.sight === undefined) throw new Error("no sight");
  sight = answer.sight;
}, 120_000);

/** A view of the demonstration in the strange language. */
function shown(view: ViewId): { readonly place: HTMLElement; readonly motion: () => Motion | undefined } {
  const facts = factsOf(demo);
  const pulse = pulseOf(demo, 456.2e-9, 20e-12);
  let motion: Motion | undefined;
  const bench = { setup: demo, view: { cursor: null, wavelengths: "vacuum" } };
  const props = {
    sight,
    teacher: { facts: () => facts, pulse: () => pulse, sentence: () => undefined, ask: () => undefined },
    moving: (moves: Motion) => {
      motion = moves;
    },
    store: { bench: () => bench, look: () => undefined },
    startForesight: () => ({ postMessage: () => undefined, terminate: () => undefined }),
  } as unknown as ViewProps & LeafProps;
  const place = document.createElement("div");
  const View = VIEW[view];
  render(
    () => (
      <TongueContext.Provider value={() => strange}>
        <View {...props} />
        <Keep stage={() => place} name="x" heading="" motion={motion} />
      </TongueContext.Provider>
    ),
    place,
  );
  return { place, motion: () => motion };
}

function readOf(place: HTMLElement): string[] {
  for (const each of place.querySelectorAll("style")) each.remove();
  const texts: string[] = [];
  const walker = document.createTreeWalker(place, NodeFilter.SHOW_TEXT);
  while (walker.nextNode() !== null) texts.push(walker.currentNode.textContent ?? "");
  const aloud = [...place.querySelectorAll("*")].flatMap((each) =>
    ["aria-label", "aria-valuetext", "alt", "title", "placeholder"].map(
      (name) => each.getAttribute(name) ?? "",
    ),
  );
  return [...texts, ...aloud];
}

describe("explaining views in another language", () => {
  it.each(VIEWS)("leave no English outside the language file: %s", (view) => {
    const { place } = shown(view);
    expect(place.querySelectorAll("svg").length).toBeGreaterThan(0);
    expect(leftOver(readOf(place), SIGNS)).toEqual([]);
  });

  it("write numbers and ticks as the country does", () => {
    const text = shown("gap").place.textContent;
    expect(text).toMatch(/\d,\d/);
    expect(text).not.toMatch(/\d\.\d/);
  });

  it.each(VIEWS.filter((view) => view !== "strengths" && view !== "warming"))(
    "have something that moves: %s",
    (view) => {
      const { place, motion } = shown(view);
      const drawn = (share: number): string => {
        const moving = motion()?.();
        moving?.show(share);
        return [...place.querySelectorAll("svg path, svg rect")].map((each) => each.outerHTML).join("");
      };
      const before = drawn(0);
      // The oscillator moves by the bench's cursor, which stands still here.
      if (view !== "oscillator") expect(drawn(0.6)).not.toBe(before);
      expect(motion()).toBeDefined();
    },
  );
});

describe("equations", () => {
  it.each(VIEWS.filter((view) => view !== "warming"))("are MathML that can be read aloud: %s", (view) => {
    const place = document.createElement("div");
    render(() => <Formula of={formulaOf(view, strange.words) ?? ""} />, place);
    const math = place.querySelector("math");
    expect(math?.namespaceURI).toBe("http://www.w3.org/1998/Math/MathML");
    expect(math?.textContent.length).toBeGreaterThan(4);
    expect(math?.querySelectorAll("merror").length).toBe(0);
  });
});
