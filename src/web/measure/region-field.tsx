/** The part of the picture to look at, typed; it can be drawn on the picture too. */
import type { Hand } from "./hand.ts";
import type { Measuring } from "./measuring.ts";

const WRITTEN = /^\s*(\d+)\s*-\s*(\d+)\s*,\s*(\d+)\s*-\s*(\d+)\s*$/;

export function RegionField(props: { readonly measuring: Measuring; readonly hand: Hand }) {
  const photo = () => props.measuring.photographs.file("hot");
  const written = (): string => {
    // Marks on another picture than the one that lies here say nothing.
    const area = props.measuring.marks() && props.hand.region();
    return area === undefined ? "" : `${area.columns.join("-")}, ${area.rows.join("-")}`;
  };
  const take = (text: string): void => {
    const of = photo();
    if (of === undefined) return;
    const [left, right, top, bottom] = (WRITTEN.exec(text) ?? []).slice(1).map(Number);
    if (text.trim() !== "" && !(right > left && bottom > top)) {
      props.measuring.setTroubles([
        `look only at: expected first to last column and row, such as "100-899, 50-349", received ${JSON.stringify(text)}.`,
      ]);
      return;
    }
    props.measuring.setTroubles([]);
    props.hand.setRegion(
      of,
      text.trim() === "" ? undefined : { columns: [left, right], rows: [top, bottom] },
    );
    props.hand.settle();
  };
  return (
    <span class="together">
      <label for="look-only">look only at</label>
      <input
        id="look-only"
        type="text"
        placeholder="columns, rows: 100-899, 50-349"
        disabled={photo() === undefined}
        value={written()}
        onChange={(event) => take(event.currentTarget.value)}
      />
    </span>
  );
}
