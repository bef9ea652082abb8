/** The density prism: which way red and green go, and the tube turned over. */
import { createSignal, Index } from "solid-js";
import { Choice } from "../figure/choice.tsx";
import type { ViewProps } from "./view-props.ts";
import { between } from "./motion.ts";
import { useTongue } from "./tongue.ts";

const STANDS = ["upright", "turned"] as const;
const RISE = 46;

export function Layers(props: ViewProps) {
  const tongue = useTongue();
  const say = () => tongue().words.layers;
  const [stands, setStands] = createSignal<(typeof STANDS)[number]>("upright");
  /** turn about the light's axis while a film is made, rad */
  const [turn, setTurn] = createSignal<number>();
  // Dense below bends the red side down: the setup's own gradient says where dense is.
  const denseBelow = () => props.sight.columnGradient < 0 === (stands() === "upright");
  /** where a ray's name stands: outside the fan, whichever way it opens */
  const beside = (side: 1 | -1): number => way(side) + (below() * side > 0 ? 18 : -8);
  /** 1 where dense lies below, −1 where above */
  const below = () => (denseBelow() ? 1 : -1) * Math.cos(turn() ?? 0);
  const way = (side: 1 | -1): number => 75 + below() * side * RISE;
  const opacity = (i: number): number => 0.31 + 0.05 * below() * (2 * i - 5);
  props.moving(() => ({
    show: (share) => setTurn(between(0, Math.PI, share)),
    end: () => setTurn(undefined),
  }));
  return (
    <>
      <Choice
        label={say().stands}
        options={STANDS}
        value={stands()}
        words={{ upright: say().upright, turned: say().turned }}
        onChoose={setStands}
      />
      <svg class="layers" viewBox="0 0 640 150" role="img" aria-label={say().says(denseBelow())}>
        <Index each={[0, 1, 2, 3, 4, 5]}>
          {(i) => (
            <rect class="layer" x="130" y={20 + i() * 18} width="300" height="18" opacity={opacity(i())} />
          )}
        </Index>
        <rect class="frame" x="130" y="20" width="300" height="108" />
        <line class="ray-in" x1="20" x2="130" y1="75" y2="75" />
        <path class="ray-red" d={`M130 75Q290 75 430 ${75 + (way(1) - 75) * 0.4}L600 ${way(1)}`} />
        <path class="ray-blue" d={`M130 75Q290 75 430 ${75 + (way(-1) - 75) * 0.4}L600 ${way(-1)}`} />
        <text x="600" y={beside(1)} text-anchor="end">
          {say().red}
        </text>
        <text x="600" y={beside(-1)} text-anchor="end">
          {say().blue}
        </text>
      </svg>
      <p>{say().note}</p>
    </>
  );
}
