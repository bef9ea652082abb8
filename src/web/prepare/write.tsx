/** What is written on the sheet, and a line to write it on. */
import type { Kept } from "../planning/kept.ts";

/** By the place in the sheet: "gather 3". */
export interface Written {
  readonly ticks: Readonly<{ [place: string]: boolean | undefined }>;
  readonly texts: Readonly<{ [place: string]: string | undefined }>;
}

/** A line to write on. */
export function Text(props: {
  readonly kept: Kept<Written>;
  readonly place: string;
  readonly label: string;
  readonly hint: string;
  /** the label stands before the line */
  readonly shown?: boolean;
}) {
  return (
    <label class="write">
      <span class={props.shown === true ? "quiet" : "unseen"}>{props.label}</span>
      <input
        type="text"
        autocomplete="off"
        placeholder={props.shown === true ? "" : props.hint}
        value={props.kept.value().texts[props.place] ?? ""}
        onChange={(event) =>
          props.kept.put({ texts: { ...props.kept.value().texts, [props.place]: event.currentTarget.value } })
        }
      />
    </label>
  );
}
