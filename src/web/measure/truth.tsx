/** What practice pictures were made with, told when it is asked for. */
import { createEffect, createSignal, on, onMount, Show as When } from "solid-js";
import { formatQuantity } from "../../quantity/index.ts";
import { minus } from "../words/number.ts";
import { Text } from "../words/text.tsx";
import type { PhotoReading, Practice } from "./protocol.ts";

export function Truth(props: {
  readonly truth: Practice["truth"] | undefined;
  readonly reading: PhotoReading;
}) {
  const [told, setTold] = createSignal(false);
  createEffect(on([() => props.truth, () => props.reading], () => setTold(false)));
  const off = (label: string, made: number): string => {
    const number = props.reading.numbers.find((each) => each.label.startsWith(label));
    if (number === undefined) return "";
    const [share, sigmas] = [
      (100 * (number.value - made)) / made,
      Math.abs(number.value - made) / number.combinedUncertainty,
    ];
    return `${formatQuantity(made, number.unit, { digits: 4 })}; read ${minus(share.toFixed(2))} % off, ${sigmas.toFixed(1)} of its standard uncertainty`;
  };
  return (
    <When when={props.truth}>
      {(truth) => (
        <div class="truth">
          <p class="quiet">
            Practice pictures are invented: the program photographed this bench itself, the metal up to 6 K
            hotter or cooler than the setup says.
          </p>
          <When
            when={told()}
            fallback={
              <button type="button" class="word" onClick={() => setTold(true)}>
                what were they made with?
              </button>
            }
          >
            <p tabIndex={-1} ref={(element) => onMount(() => element.focus({ preventScroll: true }))}>
              <Text of={`Column gradient ${off("column gradient", truth().columnGradient)}.`} />
            </p>
            <p>
              <Text of={`Column density ${off("column density", truth().columnDensity)}.`} />
            </p>
            <When when={truth().bottom > 0}>
              <p>{`The metal stood at ${formatQuantity(truth().bottom, "K", { as: "Cel", digits: 4 })}.`}</p>
            </When>
          </When>
        </div>
      )}
    </When>
  );
}
