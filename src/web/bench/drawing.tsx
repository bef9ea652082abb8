/**
 * The bench to scale, from the side and from above, and the menu of the page: choosing what stands on it opens its
 * fields. Lengths along the rail share one scale; heights are drawn larger by a stated factor, bends and spreads by
 * factors of their own.
 */
import { createMemo, For, Index, Show as When } from "solid-js";
import type { Setup } from "../../setup/api.ts";
import { ELEMENTS, type ElementId } from "../state/bench.ts";
import { createWidth } from "../figure/size.ts";
import { quantity } from "../words/number.ts";
import { elementWords } from "../words/vessels.ts";
import type { Sight } from "../worker/protocol.ts";
import { FieldImage } from "../figure/field-image.tsx";
import type { Drawn } from "./drawn.ts";
import { ElementShape } from "./shapes.tsx";
import { layStands, type Mover, Stands } from "./stands.tsx";
import { FINE_STEP, moved, placeOf, placesOf, railed, STEP, stood } from "./places.ts";
import { type Beam, roundFactor, sideBeam, topBeam, whiteBeam } from "./rays.ts";

export interface DrawingProps {
  readonly sight: Sight;
  readonly chosen: ElementId;
  readonly onChoose: (id: ElementId) => void;
  /** sets fields of the setup, as one step of undo for each move */
  readonly onMove: (values: Readonly<Record<string, string>>, label: string) => void;
  readonly onMoved: () => void;
  readonly theme: string;
  /** middle of the sheet of fields and the two upper corners of the plate, in pixels from the drawing's left edge */
  readonly anchors:
    | { readonly sheet: number; readonly plateLeft: number; readonly plateRight: number }
    | undefined;
}

const LABELS = 48;
const SIDE = 92;
const TOP = 66;
const RAIL = 28;
const THREAD = 22;
const HEIGHT = LABELS + SIDE + TOP + RAIL + THREAD;
const PAD = 34;
/** height to which the bore is drawn, px */
const BORE = 50;
/** height on the bench to which the largest bend and spread are drawn, m */
const SHOWN_BEND = 0.011;

export function BenchDrawing(props: DrawingProps) {
  const { width, measure } = createWidth(1220);
  // While a temperature is dragged nothing on the bench moves: only what changes the drawing counts as a new setup.
  const setup = createMemo(() => props.sight.setup, undefined, { equals: drawnAlike });
  const places = createMemo(() => placesOf(setup()));
  const scale = createMemo(() => {
    const last = placeOf(places(), "camera").to;
    return (width() - 2 * PAD) / (last || 1);
  });
  const stretch = createMemo(() => Math.max(1, Math.round(BORE / (setup().vessel.bore * scale()))));
  const drawn = createMemo<Drawn>(() => {
    const up = scale() * stretch();
    return {
      x: (z) => PAD + z * scale(),
      side: (y) => LABELS + SIDE / 2 - y * up,
      top: (x) => LABELS + SIDE + TOP / 2 + x * up * 0.7,
      up,
      across: up * 0.7,
    };
  });

  const colours = () => props.sight.rays;
  const bendFactor = createMemo(() =>
    roundFactor(SHOWN_BEND, Math.max(...colours().map((c) => Math.abs(c.bend))) * setup().path.focalLength),
  );
  const spreadFactor = createMemo(() =>
    roundFactor(SHOWN_BEND, Math.max(...colours().map((c) => Math.abs(c.position)))),
  );
  const polygon = (beam: Beam, y: (h: number) => number): string =>
    [...beam.upper, ...[...beam.lower].reverse()]
      .map(([z, h]) => `${drawn().x(z).toFixed(1)},${y(h).toFixed(1)}`)
      .join(" ");

  const middle = (id: ElementId): number => {
    const place = placeOf(places(), id);
    return (place.from + place.to) / 2;
  };
  const small = (id: ElementId): string | undefined =>
    id === "level-slit"
      ? quantity(setup().path.levelSlit, "m")
      : id === "plumb-slit"
        ? quantity(setup().path.plumbSlit, "m")
        : undefined;
  const stands = createMemo(() =>
    layStands(
      ELEMENTS.map((id) => {
        const { from, to } = placeOf(places(), id);
        return {
          id,
          from: drawn().x(from),
          to: drawn().x(to),
          name: nameOf(id, setup()),
          spoken: id === "second-collimator" ? "second collimator" : nameOf(id, setup()),
          small: small(id),
        };
      }),
      width(),
    ),
  );
  const tube = () => placeOf(places(), "tube");

  // A move counts from where things stood when it began, on the scale the drawing had then.
  let held: { readonly setup: Setup; readonly scale: number; touched: boolean } | undefined;
  // The sight may be older than the last move: keys can be quicker than it.
  let ahead: { readonly of: Setup; readonly setup: Setup } | undefined;
  const mover: Mover = {
    begin: () => {
      const { setup } = props.sight;
      held = { setup: ahead?.of === setup ? ahead.setup : setup, scale: scale(), touched: false };
    },
    move: (id, by, fine) => {
      if (held === undefined) return;
      const step = fine ? FINE_STEP : STEP;
      const metres = "px" in by ? by.px / held.scale : by.steps * step;
      const values =
        moved(held.setup, id, metres, step) ?? (held.touched ? stood(held.setup, id) : undefined);
      if (values === undefined) return;
      held.touched = true;
      ahead = { of: props.sight.setup, setup: railed(held.setup, values) };
      props.onMove(values, `${nameOf(id, held.setup)} moved`);
    },
    end: () => {
      held = undefined;
      props.onMoved();
    },
  };

  return (
    <section class="bench" aria-label="The bench, lamp left, camera right">
      <div class="bench-body" ref={measure}>
        <When when={setup().vessel.contents?.kind !== "prism"}>
          <FieldImage
            class="bench-vapour"
            field={props.sight.long}
            theme={props.theme}
            left={drawn().x(tube().from)}
            top={drawn().side(setup().vessel.bore / 2)}
            width={setup().vessel.length * scale()}
            height={setup().vessel.bore * drawn().up}
          />
        </When>
        <svg width={width()} height={HEIGHT} aria-hidden="true">
          <line class="axis-line" x1={PAD} x2={width() - PAD} y1={drawn().side(0)} y2={drawn().side(0)} />
          <line class="axis-line" x1={PAD} x2={width() - PAD} y1={drawn().top(0)} y2={drawn().top(0)} />
          <g class="light">
            <polygon
              class="white"
              points={polygon(
                whiteBeam(setup(), places(), setup().path.beamSize, setup().path.beamHeight),
                drawn().side,
              )}
            />
            <polygon
              class="white faint"
              points={polygon(untilPrism(sideBeam(setup(), places(), 0)), drawn().side)}
            />
            <polygon
              class="white"
              points={polygon(whiteBeam(setup(), places(), setup().path.beamWidth, 0), drawn().top)}
            />
            <polygon class="white" points={polygon(untilPrism(topBeam(setup(), places(), 0)), drawn().top)} />
            <Index each={colours()}>
              {(colour) => (
                <>
                  <polygon
                    class="ray"
                    fill={colour().fill}
                    stroke={colour().fill}
                    opacity={colour().light}
                    points={polygon(sideBeam(setup(), places(), colour().bend * bendFactor()), drawn().side)}
                  />
                  <polygon
                    class="ray"
                    fill={colour().fill}
                    stroke={colour().fill}
                    opacity={colour().light}
                    points={polygon(
                      fromPrism(
                        topBeam(
                          setup(),
                          places(),
                          (colour().position / setup().path.cameraFocalLength) * spreadFactor(),
                        ),
                      ),
                      drawn().top,
                    )}
                  />
                </>
              )}
            </Index>
          </g>
          <For each={ELEMENTS}>
            {(id) => (
              <g class="element" classList={{ chosen: props.chosen === id }}>
                <ElementShape id={id} place={placeOf(places(), id)} setup={setup()} drawn={drawn()} />
              </g>
            )}
          </For>
          <Rail drawn={drawn()} length={placeOf(places(), "camera").to} y={LABELS + SIDE + TOP + 6} />
          <g class="notes">
            <text x={0} y={LABELS + 8}>
              {`from the side, heights × ${stretch()}, bends × ${bendFactor()}`}
            </text>
            <text x={0} y={LABELS + SIDE + 2}>
              {`from above, spread × ${spreadFactor()}`}
            </text>
          </g>
          <When when={props.anchors}>
            {(anchors) => (
              <g>
                <path
                  class="thread"
                  d={`M${drawn().x(middle(props.chosen)).toFixed(1)} ${LABELS + SIDE + TOP - 2}V${HEIGHT - 14}H${anchors().sheet.toFixed(1)}V${HEIGHT}`}
                />
                <path
                  class="hanger"
                  d={`M${drawn().x(middle("camera")) - 12} ${LABELS + SIDE + TOP - 14}L${anchors().plateLeft} ${HEIGHT}M${drawn().x(middle("camera")) + 12} ${LABELS + SIDE + TOP - 14}L${anchors().plateRight} ${HEIGHT}`}
                />
              </g>
            )}
          </When>
        </svg>
        <Stands
          chosen={props.chosen}
          onChoose={props.onChoose}
          mover={mover}
          stands={stands()}
          bottom={LABELS + SIDE + TOP}
        />
      </div>
    </section>
  );
}

/** What the drawing is made from. */
function drawnAlike(a: Setup, b: Setup): boolean {
  const key = ({ path, vessel, camera }: Setup): string =>
    JSON.stringify([path, vessel.bore, vessel.length, vessel.heatedLength, camera]);
  return key(a) === key(b);
}

function nameOf(id: ElementId, setup: Setup): string {
  if (id === "lamp")
    return {
      halogen: "halogen lamp",
      "carbon-arc": "carbon arc",
      "xenon-arc": "xenon arc",
      led: "white LED",
      flat: "lamp",
      table: "lamp of one's own",
    }[setup.path.source.kind];
  if (id === "disperser")
    return {
      "direct-vision": "direct-vision prism",
      prism: "prism",
      table: "prism of one's own",
      grating: "grating",
      linear: "disperser",
    }[setup.path.disperser.kind];
  return elementWords(id, setup.vessel.contents?.kind).name;
}

/** The part of a beam up to the disperser, and from it on. */
const PRISM_POINT = 4;
const untilPrism = (beam: Beam): Beam => ({
  upper: beam.upper.slice(0, PRISM_POINT + 1),
  lower: beam.lower.slice(0, PRISM_POINT + 1),
});
const fromPrism = (beam: Beam): Beam => ({
  upper: beam.upper.slice(PRISM_POINT),
  lower: beam.lower.slice(PRISM_POINT),
});

function Rail(props: { readonly drawn: Drawn; readonly length: number; readonly y: number }) {
  const step = () => [0.1, 0.2, 0.5, 1, 2].find((s) => s * (props.drawn.x(1) - props.drawn.x(0)) > 70) ?? 5;
  const marks = () =>
    Array.from({ length: Math.floor(props.length / step() + 1e-9) + 1 }, (_, i) => i * step());
  return (
    <g class="rail">
      <line
        class="rail-line"
        x1={props.drawn.x(0) - 20}
        x2={props.drawn.x(props.length) + 20}
        y1={props.y}
        y2={props.y}
      />
      <For each={marks()}>
        {(z, i) => (
          <g transform={`translate(${props.drawn.x(z)} ${props.y})`}>
            <line y1={2} y2={7} />
            <text y={18} text-anchor="middle">
              {i() === marks().length - 1 ? `${z.toFixed(1)}\u202fm` : z === 0 ? "0" : z.toFixed(1)}
            </text>
          </g>
        )}
      </For>
    </g>
  );
}
