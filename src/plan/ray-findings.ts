/** Findings about the light's way through the vapour: whether rays traced in full go where the small angles of the picture say. */
import { bendingOf, type Forecast } from "../setup/index.ts";
import type { Finding } from "./finding.ts";

const SOURCE = "six rays traced through the solved vapour where it bends most (eikonal equation)";
const PIXELS = { threshold: 1, unit: "1", source: SOURCE };

export function rayFindings(forecast: Forecast): Finding[] {
  const bending = bendingOf(forecast);
  if (bending === undefined || bending.rays.length === 0) return [];
  const { worstPixels, wallHits, findings } = bending;
  if (findings.length === 0) {
    return [
      {
        code: "rays-agree",
        level: "fine",
        sentence: `Rays traced through the vapour land within ${worstPixels.toFixed(2)} pixels of the picture's small-angle answer.`,
        value: worstPixels,
        ...PIXELS,
      },
    ];
  }
  // The wall, where rays meet it, is told last.
  return findings.map((sentence, i) =>
    wallHits > 0 && i === findings.length - 1
      ? {
          code: "rays-meet-wall",
          level: "mind",
          sentence,
          value: wallHits,
          threshold: 0,
          unit: "1",
          source: SOURCE,
          remedy: { text: "bend less: cool the bottom, or let the beam pass nearer the middle" },
        }
      : {
          code: "rays-differ",
          level: "mind",
          sentence,
          value: worstPixels,
          ...PIXELS,
          remedy: { text: "bend less, or read the steep ends of the curve with this much doubt" },
        },
  );
}
