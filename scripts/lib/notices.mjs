import { existsSync, readdirSync, readFileSync } from "node:fs";
import { at } from "./paths.mjs";

/**
 * A bundler plugin that writes third-party.txt: every package of which something went into the bundle, with its
 * licence. Fonts reach the page through style sheets, which the bundler does not list as modules, so all font
 * packages among our dependencies count.
 *
 * @returns {import("vite").Plugin}
 */
export function thirdPartyNotices() {
  return {
    name: "third-party-notices",
    generateBundle(_options, bundle) {
      const { dependencies } = JSON.parse(readFileSync(at("package.json"), "utf8"));
      const names = new Set(Object.keys(dependencies).filter((name) => name.startsWith("@fontsource")));
      for (const chunk of Object.values(bundle)) {
        if (chunk.type !== "chunk") continue;
        for (const id of chunk.moduleIds) {
          const name = /.*\/node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(id.replaceAll("\\", "/"))?.[1];
          if (name !== undefined) names.add(name);
        }
      }
      this.emitFile({
        type: "asset",
        fileName: "third-party.txt",
        source: [...names].sort().map(notice).join("\n"),
      });
    },
  };
}

/** @param {string} name of a package in node_modules */
function notice(name) {
  const folder = at("node_modules", name);
  if (!existsSync(folder))
    throw new Error(`third-party notices: ${name} is in the bundle but not in node_modules.`);
  const { version, license, author } = JSON.parse(readFileSync(`${folder}/package.json`, "utf8"));
  const file = readdirSync(folder).find((entry) => /^licen[cs]e(?:\.(?:md|txt))?$/i.test(entry));
  const by = typeof author === "string" ? author : (author?.name ?? "its authors");
  const text = file === undefined ? `${license}, by ${by}` : readFileSync(`${folder}/${file}`, "utf8").trim();
  return `${"=".repeat(78)}\n${name} ${version} (${license})\n${"=".repeat(78)}\n\n${text}\n`;
}
