/** The table of the ledger of the dark: its tints lie over the picture. */
import { Index } from "solid-js";
import { FATE_TINTS, FATE_WORDS } from "../../picture/fates.ts";
import { percent } from "../words/number.ts";
import type { Dark } from "../worker/protocol.ts";

export function TintTable(props: { readonly dark: Dark }) {
  return (
    <table class="tint-table">
      <caption>
        Where the light went, over the width of the picture. In the picture each column is a stack: what was
        recorded lies at the bottom.
      </caption>
      <tbody>
        <Index each={props.dark}>
          {(row) => (
            <tr>
              <th scope="row">
                <svg class="tint" width="14" height="14" aria-hidden="true">
                  <rect width="14" height="14" fill={`rgb(${FATE_TINTS[row().fate].join(" ")})`} />
                </svg>
                {FATE_WORDS[row().fate]}
              </th>
              <td>{percent(row().share)}</td>
            </tr>
          )}
        </Index>
      </tbody>
    </table>
  );
}
