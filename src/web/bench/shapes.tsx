/** How each thing on the bench is drawn, from the side and from above. */
import { Match, Switch } from "solid-js";
import type { Setup } from "../../setup/api.ts";
import type { ElementId } from "../state/bench.ts";
import type { Drawn } from "./drawn.ts";
import type { Place } from "./places.ts";
import { Vessel } from "./vessel.tsx";

/** Half the height of lenses, prism and camera as drawn, m: usual sizes, a setup does not give them. */
const LENS = 0.018;
const PRISM = 0.0125;
const CAMERA = 0.014;

export interface ShapeProps {
  readonly id: ElementId;
  readonly place: Place;
  readonly setup: Setup;
  readonly drawn: Drawn;
}

export function ElementShape(props: ShapeProps) {
  const x = () => props.drawn.x((props.place.from + props.place.to) / 2);
  return (
    <Switch fallback={<Lens x={x()} drawn={props.drawn} />}>
      <Match when={props.id === "lamp"}>
        <Lamp x={x()} drawn={props.drawn} />
      </Match>
      <Match when={props.id === "level-slit"}>
        <Slit x={x()} drawn={props.drawn} cut="side" />
      </Match>
      <Match when={props.id === "plumb-slit"}>
        <Slit x={x()} drawn={props.drawn} cut="top" />
      </Match>
      <Match when={props.id === "tube"}>
        <Vessel {...props} />
      </Match>
      <Match when={props.id === "camera"}>
        <Camera x={x()} drawn={props.drawn} />
      </Match>
      <Match when={props.id === "disperser" && props.setup.path.disperser.kind !== "direct-vision"}>
        <Grating x={x()} drawn={props.drawn} />
      </Match>
      <Match
        when={
          props.id === "disperser" &&
          props.setup.path.disperser.kind === "direct-vision" &&
          props.setup.path.disperser
        }
      >
        {(train) => (
          <Prism place={props.place} parts={train().elements * train().trains} drawn={props.drawn} />
        )}
      </Match>
    </Switch>
  );
}

function Camera(props: { readonly x: number; readonly drawn: Drawn }) {
  return (
    <g>
      <rect
        class="body"
        x={props.x - 4}
        y={props.drawn.side(CAMERA)}
        width={26}
        height={2 * CAMERA * props.drawn.up}
      />
      <rect
        class="body"
        x={props.x - 4}
        y={props.drawn.top(-CAMERA)}
        width={26}
        height={2 * CAMERA * props.drawn.across}
      />
    </g>
  );
}

function Lens(props: { readonly x: number; readonly drawn: Drawn }) {
  const lens = (centre: number, half: number): string =>
    `M${props.x} ${centre - half}Q${props.x + 9} ${centre} ${props.x} ${centre + half}Q${props.x - 9} ${centre} ${props.x} ${centre - half}Z`;
  return (
    <g class="glass">
      <path d={lens(props.drawn.side(0), LENS * props.drawn.up)} />
      <path d={lens(props.drawn.top(0), LENS * props.drawn.across)} />
    </g>
  );
}

function Lamp(props: { readonly x: number; readonly drawn: Drawn }) {
  return (
    <g class="lamp">
      <circle cx={props.x} cy={props.drawn.side(0)} r={15} />
      <circle class="spark" cx={props.x} cy={props.drawn.side(0)} r={4.5} />
      <circle cx={props.x} cy={props.drawn.top(0)} r={12} />
      <circle class="spark" cx={props.x} cy={props.drawn.top(0)} r={4} />
    </g>
  );
}

/** A slit is two jaws in the view in which it is narrow and a line in the other. */
function Slit(props: { readonly x: number; readonly drawn: Drawn; readonly cut: "side" | "top" }) {
  const jaws = (centre: number, half: number, cut: boolean): string =>
    cut
      ? `M${props.x} ${centre - half}V${centre - 2.5}M${props.x} ${centre + 2.5}V${centre + half}`
      : `M${props.x - 2.5} ${centre - half}h5v${2 * half}h-5z`;
  return (
    <g>
      <path
        class={props.cut === "side" ? "jaws" : "jaws-flat"}
        d={jaws(props.drawn.side(0), LENS * props.drawn.up, props.cut === "side")}
      />
      <path
        class={props.cut === "top" ? "jaws" : "jaws-flat"}
        d={jaws(props.drawn.top(0), LENS * props.drawn.across, props.cut === "top")}
      />
    </g>
  );
}

/** The train's glasses are triangles from above, since it spreads sideways, and a block from the side. */
function Prism(props: { readonly place: Place; readonly parts: number; readonly drawn: Drawn }) {
  const left = () => props.drawn.x(props.place.from);
  const width = () => props.drawn.x(props.place.to) - left();
  const high = () => props.drawn.top(-PRISM);
  const low = () => props.drawn.top(PRISM);
  const faces = () =>
    Array.from({ length: props.parts - 1 }, (_, i) => {
      const step = width() / props.parts;
      const x = left() + (i + 1) * step;
      const lean = (i % 2 === 0 ? 1 : -1) * step * 0.5;
      return `M${x - lean} ${low()}L${x + lean} ${high()}`;
    }).join("");
  return (
    <g class="glass">
      <rect x={left()} y={props.drawn.side(PRISM)} width={width()} height={2 * PRISM * props.drawn.up} />
      <rect x={left()} y={high()} width={width()} height={low() - high()} />
      <path class="face" d={faces()} />
    </g>
  );
}

function Grating(props: { readonly x: number; readonly drawn: Drawn }) {
  return (
    <g class="glass">
      <rect x={props.x - 2} y={props.drawn.side(PRISM)} width={4} height={2 * PRISM * props.drawn.up} />
      <rect x={props.x - 2} y={props.drawn.top(-PRISM)} width={4} height={2 * PRISM * props.drawn.across} />
      <line
        class="grooves"
        x1={props.x + 4}
        x2={props.x + 4}
        y1={props.drawn.top(-PRISM)}
        y2={props.drawn.top(PRISM)}
      />
    </g>
  );
}
