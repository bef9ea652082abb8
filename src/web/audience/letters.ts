/** How high letters must be so that the last row reads them. */
import sight from "../../../data/sight.json" with { type: "json" };

const MINUTE = Math.PI / 180 / 60;
/** Height of a capital letter of the page's sans serif, share of its font size (read from the font's own table). */
const CAPITAL = 0.698;

/**
 * Height of capital letters, m, that subtend the comfortable angle at the eye of the last row: h = d·tan(α).
 * α and its source: data/sight.json, letter_minutes.
 * @param depth from the wall to the last row, m, > 0
 */
export function letterHeight(depth: number): number {
  return depth * Math.tan(sight.letter_minutes.value * MINUTE);
}

/**
 * Font size for the projector's own window.
 * @param depth m
 * @param wallHeight height of the whole projected window on the wall, m
 * @param windowHeight the same in pixels
 */
export function fontSize(depth: number, wallHeight: number, windowHeight: number): number {
  return ((letterHeight(depth) / wallHeight) * windowHeight) / CAPITAL;
}
