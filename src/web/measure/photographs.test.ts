// @vitest-environment node
import { createRoot } from "solid-js";
import { describe, expect, it } from "vitest";
import { createPhotographs, sortIntoPlaces } from "./photographs.ts";

const file = (name: string, size = 10): File => {
  const made = new File(["x"], name);
  Object.defineProperty(made, "size", { value: size });
  return made;
};

describe("dropped photographs", () => {
  it("take their places by their names", () => {
    const names = ["k-clean-cold.png", "k-clean.png", "k-clean-Lamp.png", "dark 1.png"];
    expect(sortIntoPlaces(names.map((name) => ({ name }))).map(({ place }) => place)).toEqual([
      "cold",
      "hot",
      "lamp",
      "dark",
    ]);
  });

  it("are refused with a sentence when they are no pictures or far too large", () => {
    createRoot((dispose) => {
      const photographs = createPhotographs();
      expect(photographs.put("hot", file("notes.txt"))).toBe(
        "notes.txt: expected a PNG, JPEG, TIFF or FITS picture.",
      );
      expect(photographs.put("hot", file("huge.png", 3e8))).toBe(
        "huge.png: expected at most 200 MB, received 300 MB.",
      );
      expect(photographs.file("hot")).toBeUndefined();
      expect(photographs.putAll([file("a.png"), file("a-cold.JPG")])).toBeUndefined();
      expect(photographs.file("cold")?.name).toBe("a-cold.JPG");
      expect(photographs.putAll([file("dark-1.png"), file("dark-2.png"), file("run.webm")])).toBeUndefined();
      expect(photographs.darks().map(({ name }) => name)).toEqual(["dark-1.png", "dark-2.png"]);
      expect(photographs.film()?.name).toBe("run.webm");
      photographs.put("dark", undefined);
      expect(photographs.darks()).toEqual([]);
      dispose();
    });
  });
});
