/** What a person sets the camera up by: slope, focus, exposure and histogram, large enough to be read from the rail. */
import { createEffect, createSignal, For, on, Show as When } from "solid-js";
import type { Meter } from "../measure/protocol.ts";
import { minus, percent } from "../words/number.ts";

/** A slope below this need not be mended, rad: a slit within 2 mrad is square enough (common practice, no source). */
const LEVEL_ENOUGH = 0.002;
/** The bright line should stand between these shares of full scale (common practice, no source). */
const BRIGHT_FROM = 0.3;
const BRIGHT_TO = 0.8;

export function Meters(props: {
  readonly meter: Meter;
  /** true where the vapour bends the line, which then says nothing of slits and camera */
  readonly bent: boolean;
}) {
  const [best, setBest] = createSignal<number>();
  createEffect(
    on(
      () => props.meter.edge,
      (edge) => {
        const before = best();
        if (edge !== undefined && (before === undefined || edge < before)) setBest(edge);
      },
    ),
  );
  return (
    <div class="meters">
      <section aria-label="Level">
        <h3>Level</h3>
        <p class="meter-large">{slopeText(props.meter.slope)}</p>
        <p>{slopeWords(props.meter.slope, props.bent)}</p>
      </section>
      <section aria-label="Focus">
        <h3>Focus</h3>
        <p class="meter-large">
          {props.meter.edge === undefined ? "no line" : `${props.meter.edge.toFixed(2)}\u202fpx`}
        </p>
        <p>
          <When when={best()} fallback="Blur at the line's edge; the smaller the better.">
            {(least) => (
              <>
                {`Blur at the line's edge; best so far ${least().toFixed(2)} px. `}
                <button type="button" class="word" onClick={() => setBest(props.meter.edge)}>
                  begin anew
                </button>
              </>
            )}
          </When>
        </p>
      </section>
      <section aria-label="Exposure">
        <h3>Exposure</h3>
        <p class="meter-large">
          {props.meter.bright === undefined ? "no line" : percent(props.meter.bright)}
        </p>
        <p classList={{ alarm: props.meter.clipped > 1e-4 }}>{exposureWords(props.meter)}</p>
        <Histogram meter={props.meter} />
      </section>
    </div>
  );
}

function slopeText(slope: number | undefined): string {
  return slope === undefined ? "no line" : `${minus((slope * 1e3).toFixed(1))}\u202fmrad`;
}

function slopeWords(slope: number | undefined, bent: boolean): string {
  if (slope === undefined) return "No bright line is in view.";
  if (bent) return "The vapour bends this line: level slit and camera by the cold line, before heating.";
  if (Math.abs(slope) < LEVEL_ENOUGH) return "Level enough: within 2 mrad.";
  const end = slope > 0 ? "right" : "left";
  return `The ${end} end stands high: turn the level slit or the camera until both ends agree.`;
}

function exposureWords({ bright, clipped, black }: Meter): string {
  if (clipped > 1e-4) return `${percent(clipped)} of the pixels are full: shorten the exposure.`;
  if (bright === undefined) return "No bright line is in view.";
  if (bright > BRIGHT_TO) return "Nearly full: shorten the exposure a little.";
  if (bright < BRIGHT_FROM) return "Faint: lengthen the exposure.";
  if (black > 0.3)
    return "Good. Much of the picture is cut off at black: faint light is lost there; raise the camera's brightness a little.";
  return "Good.";
}

/** Counts on a logarithmic scale; the last bar is what is full. */
function Histogram(props: { readonly meter: Meter }) {
  const heights = () => {
    const counts = Array.from(props.meter.histogram, (n) => Math.log10(1 + n));
    const most = Math.max(1, ...counts);
    return counts.map((value) => value / most);
  };
  return (
    <svg
      class="histogram"
      width="256"
      height="60"
      role="img"
      aria-label={`Histogram of the pixels; ${percent(props.meter.clipped)} full, ${percent(props.meter.black)} black`}
    >
      <For each={heights()}>
        {(share, i) => (
          <rect
            class={i() === heights().length - 1 && props.meter.clipped > 1e-4 ? "bar-copper" : "bar-ink"}
            x={i() * 4}
            y={58 - 56 * share}
            width="3"
            height={56 * share + 1}
          />
        )}
      </For>
    </svg>
  );
}
