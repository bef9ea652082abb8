/** How the vessel is drawn, by its kind: tube, cell, flame, hollow prism. */
import { For, Match, Show as When, Switch } from "solid-js";
import type { Setup } from "../../setup/api.ts";
import type { Place } from "./places.ts";
import type { Drawn } from "./drawn.ts";

/** How far a window stands out beyond the bore, m. */
const WINDOW = 0.006;
/** Least width of a prism in the drawing, px: on the scale of the bench a wedge is a hair. */
const THICK = 22;

interface VesselProps {
  readonly place: Place;
  readonly setup: Setup;
  readonly drawn: Drawn;
}

export function Vessel(props: VesselProps) {
  const kind = () => props.setup.vessel.contents?.kind;
  return (
    <Switch fallback={<Tube {...props} />}>
      <Match when={kind() === "flame"}>
        <Flame {...props} />
      </Match>
      <Match when={kind() === "prism"}>
        <Wedge {...props} />
      </Match>
    </Switch>
  );
}

/** Bore, heater below it and windows; a cell has no heater. */
function Tube(props: VesselProps) {
  const half = () => props.setup.vessel.bore / 2;
  const left = () => props.drawn.x(props.place.from);
  const width = () => props.drawn.x(props.place.to) - left();
  const heated = () => {
    const middle = (props.place.from + props.place.to) / 2;
    const reach = props.setup.vessel.heatedLength / 2;
    return { from: props.drawn.x(middle - reach), to: props.drawn.x(middle + reach) };
  };
  return (
    <g class="tube">
      <rect
        class="wall"
        x={left()}
        y={props.drawn.side(half())}
        width={width()}
        height={2 * half() * props.drawn.up}
      />
      <When when={props.setup.vessel.contents === undefined}>
        <line
          class="heater"
          x1={heated().from}
          x2={heated().to}
          y1={props.drawn.side(-half()) + 3.5}
          y2={props.drawn.side(-half()) + 3.5}
        />
      </When>
      <rect
        class="wall above"
        x={left()}
        y={props.drawn.top(-half())}
        width={width()}
        height={2 * half() * props.drawn.across}
      />
      <For each={[left(), left() + width()]}>
        {(x) => (
          <>
            <rect
              class="window"
              x={x - 2.5}
              y={props.drawn.side(half() + WINDOW)}
              width={5}
              height={2 * (half() + WINDOW) * props.drawn.up}
            />
            <rect
              class="window"
              x={x - 2.5}
              y={props.drawn.top(-half() - WINDOW)}
              width={5}
              height={2 * (half() + WINDOW) * props.drawn.across}
            />
          </>
        )}
      </For>
    </g>
  );
}

/** A flame has no wall: its outline alone, pointed above. */
function Flame(props: VesselProps) {
  const x = () => (props.drawn.x(props.place.from) + props.drawn.x(props.place.to)) / 2;
  const half = () => props.setup.vessel.bore / 2;
  const width = () => Math.max(THICK, props.drawn.x(props.place.to) - props.drawn.x(props.place.from)) / 2;
  const high = () => props.drawn.side(half());
  const low = () => props.drawn.side(-half());
  const wide = () => half() * props.drawn.across;
  return (
    <g class="tube">
      <path
        class="wall above"
        d={`M${x()} ${high()}C${x() + 1.6 * width()} ${(high() + low()) / 2} ${x() + width()} ${low()} ${x()} ${low()}C${x() - width()} ${low()} ${x() - 1.6 * width()} ${(high() + low()) / 2} ${x()} ${high()}Z`}
      />
      <ellipse class="wall above" cx={x()} cy={props.drawn.top(0)} rx={width()} ry={wide()} />
    </g>
  );
}

/** A triangle from the side, its edge above or below; a block from above. */
function Wedge(props: VesselProps) {
  const x = () => (props.drawn.x(props.place.from) + props.drawn.x(props.place.to)) / 2;
  const half = () => props.setup.vessel.bore / 2;
  const up = () => {
    const { contents } = props.setup.vessel;
    return contents?.kind === "prism" && contents.edgeAbove ? 1 : -1;
  };
  const width = () => Math.max(THICK, props.drawn.x(props.place.to) - props.drawn.x(props.place.from)) / 2;
  const edge = () => props.drawn.side(up() * half());
  const thick = () => props.drawn.side(-up() * half());
  return (
    <g class="glass">
      <path d={`M${x()} ${edge()}L${x() + width()} ${thick()}H${x() - width()}Z`} />
      <rect
        x={x() - width()}
        y={props.drawn.top(-half())}
        width={2 * width()}
        height={2 * half() * props.drawn.across}
      />
    </g>
  );
}
