/** Writes the list in docs/decisions/README.md anew from the titles of the decisions: npm run decisions. */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { at } from "./lib/paths.mjs";

const folder = at("docs/decisions");
const list = readdirSync(folder)
  .filter((name) => /^\d{4}-.+\.md$/.test(name))
  .sort()
  .map((name) => `- ${name.slice(0, 4)} [${titleOf(name)}](${name})`);
const readme = `${folder}/README.md`;
const [before, after] = readFileSync(readme, "utf8").split(
  /(?<=<!-- list -->\n)[\s\S]*(?=<!-- end of list -->)/,
);
writeFileSync(readme, `${before}${list.join("\n")}\n${after}`);

/** The first heading, without a number before it. @param {string} name */
function titleOf(name) {
  const title = /^#\s+(?:\d{4}[.:]?\s+(?:[—–-]\s+)?)?(.+)$/m.exec(
    readFileSync(`${folder}/${name}`, "utf8"),
  )?.[1];
  if (title === undefined) throw new Error(`${name}: expected a first line "# Title", received none.`);
  return title.trim();
}
