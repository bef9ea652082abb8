/** A pulse on its way along the vapour beside the same pulse in vacuum, at one moment; and both magnified around a front at c. */
import { createMemo, For } from "solid-js";
import { pulseAt, type Travelled } from "../../medium/index.ts";
import { SPEED_OF_LIGHT } from "./model.ts";
import { useTongue } from "./tongue.ts";

/** Vacuum drawn before and behind the vapour, as a share of its length. */
export const MARGIN = 0.12;
const LEFT = 20;
const RIGHT = 580;
const POINTS = 840;
const HEIGHT = 46;
/** Feet of the three drawings, in units of the drawing. */
const VACUUM = 70;
const VAPOUR = 136;
const NEAR = 236;
/** Seen around the front: so many lengths of the pulse behind it, and ahead of it. */
const BEHIND = 4.4;
const AHEAD = 0.6;

export interface Moment {
  readonly travel: Travelled;
  /** s since a front at c stood at the entrance */
  readonly time: number;
  /** of the pulse, s */
  readonly duration: number;
}

/** Where light is, m from the entrance. */
type Light = (z: number) => number;

/** Middle of the energy between two places, m; null where hardly any is left. */
export function middleOf(light: Light, from: number, to: number, least: number): number | null {
  let [weight, moment] = [0, 0];
  for (let i = 0; i < POINTS; i++) {
    const z = from + ((i + 0.5) / POINTS) * (to - from);
    const here = light(z);
    weight += here;
    moment += here * z;
  }
  return weight / POINTS > least ? moment / weight : null;
}

/** The lights of the two lanes at a moment. */
export function lanesOf({ travel, time }: Moment): { readonly vacuum: Light; readonly vapour: Light } {
  return {
    // Before the entrance there is vacuum: there the table's first depth is the pulse in vacuum.
    vacuum: (z) => pulseAt(travel, Math.min(0, z), time - (z - Math.min(0, z)) / SPEED_OF_LIGHT),
    vapour: (z) => pulseAt(travel, z, time),
  };
}

export function Travelling(props: Moment) {
  const tongue = useTongue();
  const words = () => tongue().words;
  const say = () => words().velocities;
  const front = () => props.time * SPEED_OF_LIGHT;
  const lanes = createMemo(() => lanesOf(props));
  const most = createMemo(() => props.travel.intensity.reduce((top, value) => Math.max(top, value), 1));
  const from = () => -MARGIN * props.travel.length;
  const to = () => (1 + MARGIN) * props.travel.length;
  const near = () => props.duration * SPEED_OF_LIGHT;
  const curve = (light: Light, start: number, end: number, foot: number): string =>
    Array.from({ length: POINTS + 1 }, (_, i) => {
      const z = start + (i / POINTS) * (end - start);
      return `${i === 0 ? "M" : "L"}${(LEFT + (i / POINTS) * (RIGHT - LEFT)).toFixed(2)} ${(foot - (HEIGHT * light(z)) / most()).toFixed(2)}`;
    }).join("");
  const along = (z: number): number => LEFT + ((z - from()) / (to() - from())) * (RIGHT - LEFT);
  const seen = () => front() >= from() && front() <= to();
  const nearFront = LEFT + (BEHIND / (BEHIND + AHEAD)) * (RIGHT - LEFT);
  const mm = (length: number, digits = 3): string => `${tongue().numbers.text(length * 1e3, digits)}\u202fmm`;
  const summary = createMemo(() => {
    const { vacuum, vapour } = lanes();
    const range = [front() - BEHIND * near(), front() + AHEAD * near()] as const;
    const [own, other] = [middleOf(vapour, ...range, 1e-3), middleOf(vacuum, ...range, 1e-3)];
    const lag = own === null || other === null ? null : other - own;
    const place =
      lag === null ? `: ${say().absorbed}` : lag < 0 ? say().beyond(mm(-lag, 2)) : say().behind(mm(lag, 2));
    return say().snapshot(mm(front()), mm(props.travel.length), place);
  });
  return (
    <>
      <svg class="travelling" viewBox="0 0 600 268" role="img" aria-label={summary()}>
        <rect
          class="layer"
          opacity="0.12"
          x={along(0)}
          y={VAPOUR - HEIGHT}
          width={along(props.travel.length) - along(0)}
          height={HEIGHT}
        />
        <For
          each={
            [
              { foot: VACUUM, lane: "vacuum", word: say().inVacuum },
              { foot: VAPOUR, lane: "vapour", word: say().inVapour },
            ] as const
          }
        >
          {({ foot, lane, word }) => (
            <>
              <line class="axis-line" x1={LEFT} x2={RIGHT} y1={foot} y2={foot} />
              <path
                class={lane === "vacuum" ? "pulse-vacuum" : "answer"}
                d={curve(lanes()[lane], from(), to(), foot)}
              />
              <text x={LEFT} y={foot - HEIGHT - 4}>
                {word}
              </text>
            </>
          )}
        </For>
        <line
          class="front-line"
          visibility={seen() ? "visible" : "hidden"}
          x1={along(front())}
          x2={along(front())}
          y1={VACUUM - HEIGHT}
          y2={VAPOUR + 6}
        />
        <line class="axis-line" x1={LEFT} x2={RIGHT} y1={NEAR} y2={NEAR} />
        <path
          class="pulse-vacuum"
          d={curve(lanes().vacuum, front() - BEHIND * near(), front() + AHEAD * near(), NEAR)}
        />
        <path
          class="answer"
          d={curve(lanes().vapour, front() - BEHIND * near(), front() + AHEAD * near(), NEAR)}
        />
        <line class="front-line" x1={nearFront} x2={nearFront} y1={NEAR - HEIGHT - 6} y2={NEAR + 6} />
        <text x={nearFront} y={NEAR + 20} text-anchor="middle">
          {say().front}
        </text>
        <text x={LEFT} y={NEAR - HEIGHT - 18}>
          {say().around(mm((BEHIND + AHEAD) * near(), 2))}
        </text>
      </svg>
      <p>{summary()}</p>
    </>
  );
}
