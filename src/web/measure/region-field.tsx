/** The part of the picture to look at, typed: where a picture cannot be read as a whole there is nothing yet to draw it on. */
import type { Hand } from "./hand.ts";
import type { Measuring } from "./measuring.ts";

interface Region {
  readonly columns: readonly [number, number];
  readonly rows: readonly [number, number];
}

const WRITTEN = /^\s*(\d+)\s*-\s*(\d+)\s*,\s*(\d+)\s*-\s*(\d+)\s*$/;

export function RegionField(props: { readonly measuring: Measuring; readonly hand: Hand }) {
  const photo = () => props.measuring.photographs.file("hot");
  const written = (): string => {
    const region = props.measuring.marks()?.["region"] as Region | undefined;
    return region === undefined ? "" : `${region.columns.join("-")}, ${region.rows.join("-")}`;
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
    const { region: _before, ...others } = props.measuring.marks() ?? {};
    const region = text.trim() === "" ? {} : { region: { columns: [left, right], rows: [top, bottom] } };
    props.hand.open(new File([JSON.stringify({ ...others, ...region })], "look only at"), of, (sentences) =>
      props.measuring.setTroubles(sentences),
    );
  };
  return (
    <>
      <label for="look-only">look only at</label>
      <input
        id="look-only"
        type="text"
        placeholder="columns, rows: 100-899, 50-349"
        disabled={photo() === undefined}
        value={written()}
        onChange={(event) => take(event.currentTarget.value)}
      />
    </>
  );
}
