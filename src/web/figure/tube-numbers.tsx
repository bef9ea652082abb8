/** The vapour, or the dye, in numbers, for those who want them all at once. */
import { For } from "solid-js";
import { quantity, significant } from "../words/number.ts";
import { Text } from "../words/text.tsx";
import type { Sight } from "../worker/protocol.ts";

export function TubeNumbers(props: { readonly sight: Sight }) {
  const dyed = (): boolean => props.sight.setup.medium.solution !== undefined;
  const rows = (): readonly (readonly [name: string, value: string])[] => {
    const { sight } = props;
    const beam: readonly (readonly [string, string])[] = [
      [
        dyed() ? "temperature" : "gas temperature on the beam",
        quantity(sight.onAxis.temperature, "K", "degC"),
      ],
      ["column density", `${significant(sight.columnDensity)}\u202fm^\u22122`],
      ["column gradient", `${significant(sight.columnGradient)}\u202fm^\u22123`],
    ];
    if (dyed()) return beam;
    return [
      ...beam,
      ["supersaturation at mid-length", significant(sight.supersaturation, 2)],
      ["Rayleigh number of the bore", significant(sight.rayleigh, 2)],
      ["Knudsen number", significant(sight.knudsen, 2)],
      ["charge lasts", lasting(sight.chargeLife)],
    ];
  };
  return (
    <table class="tube-numbers">
      <caption>{dyed() ? "Dye on the beam" : "Vapour on the beam"}</caption>
      <tbody>
        <For each={rows()}>
          {([name, value]) => (
            <tr>
              <th scope="row">{name}</th>
              <td>
                <Text of={value} />
              </td>
            </tr>
          )}
        </For>
      </tbody>
    </table>
  );
}

const HOUR = 3600;

function lasting(seconds: number | null): string {
  if (seconds === null) return "no loss foreseen";
  if (seconds > 1000 * HOUR) return "over 1000\u202fh";
  return seconds >= HOUR
    ? `${(seconds / HOUR).toPrecision(2)}\u202fh`
    : `${Math.round(seconds / 60)}\u202fmin`;
}
