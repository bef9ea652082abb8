import { render } from "solid-js/web";
import { afterEach, expect, it, vi } from "vitest";
import { Keep } from "./keep.tsx";

afterEach(() => {
  vi.restoreAllMocks();
  document.body.replaceChildren();
});

/** Clicks on the still of a view that holds this. */
function kept(content: string): { readonly files: number; readonly said: string | null } {
  const stage = document.createElement("div");
  stage.innerHTML = content;
  const place = document.createElement("div");
  document.body.append(stage, place);
  let files = 0;
  URL.createObjectURL = () => {
    files++;
    return "blob:kept";
  };
  URL.revokeObjectURL = () => undefined;
  vi.spyOn(HTMLAnchorElement.prototype, "click").mockImplementation(() => undefined);
  render(() => <Keep stage={() => stage} name="x" heading="a view" motion={undefined} />, place);
  place.querySelector("button")?.click();
  return { files, said: place.querySelector("[role=status]")?.textContent ?? null };
}

it("keeps no still before anything is drawn, and says so", () => {
  expect(kept("<p>The pulse is being carried…</p>")).toEqual({
    files: 0,
    said: "Nothing is drawn yet; keep it when the drawing stands.",
  });
});

it("keeps what is drawn", () => {
  expect(kept('<svg width="10" height="10"><path d="M0 0" /></svg>')).toEqual({ files: 1, said: "" });
});
