/** What a person finds in an exported notebook: a page to look at, the numbers as a table, and how entries are written. */

import type { CrateAbout, CrateFile, Metadata } from "./crate.ts";
import { idOf } from "./crate.ts";
import type { Entry } from "./contract.ts";
import { numbersOf } from "./numbers.ts";

export function previewPage(
  about: CrateAbout,
  metadata: Metadata,
  entries: readonly Entry[],
  files: readonly CrateFile[],
): string {
  const paths = new Map(files.map(({ sha256, path }) => [sha256, path]));
  const rows = entries.map((entry) => {
    const shown = entry.files.map(({ sha256, name }) => {
      return `<a href="${text(idOf(paths.get(sha256) ?? ""))}">${text(name)}</a>`;
    });
    const corrected = entry.correctedBy.map(
      (uid) => ` (corrected by <a href="#${uid}">${uid.slice(0, 8)}</a>)`,
    );
    const cells = [
      `<a href="#${entry.uid}">${entry.uid.slice(0, 8)}</a>`,
      text(entry.at.slice(0, 16).replace("T", " ")),
      text(entry.kind),
      text(entry.title) + corrected.join(""),
      text(entry.text),
      shown.join(", "),
      text(entry.by),
    ];
    return `<tr id="${entry.uid}">${cells.map((cell) => `<td>${cell}</td>`).join("")}</tr>`;
  });
  // Within a script element "<" could end it, so it is written as an escape of JSON.
  const json = JSON.stringify(metadata, null, 1).replaceAll("<", "\\u003c");
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>${text(about.name)}</title>
<style>body{font-family:sans-serif;max-width:75rem;margin:2rem auto;padding:0 1rem}table{border-collapse:collapse}td,th{border:1px solid #999;padding:.2rem .5rem;text-align:left;vertical-align:top}</style>
<script type="application/ld+json">
${json}
</script>
</head>
<body>
<h1>${text(about.name)}</h1>
<p>${text(about.description)}</p>
<p>Published ${text(about.date.slice(0, 10))}. Licence: ${text(about.license)}</p>
<p>Times are in UTC. Numbers that were read from pictures stand in <a href="numbers.csv">numbers.csv</a>, in SI units.</p>
<table>
<thead><tr><th>Entry</th><th>Time</th><th>Kind</th><th>Title</th><th>Words</th><th>Files</th><th>By</th></tr></thead>
<tbody>
${rows.join("\n")}
</tbody>
</table>
</body>
</html>
`;
}

function text(words: string): string {
  return words
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}

/** Every named number of the entries, SI units, one in a line. */
export function numbersTable(entries: readonly Entry[]): string {
  const rows = entries.flatMap((entry) =>
    numbersOf(entry.kind, entry.body).map(([name, value]) =>
      [entry.uid, entry.kind, entry.at, quoted(entry.title), quoted(name), String(value)].join(","),
    ),
  );
  return `${["entry,kind,time_utc,title,name,value_si", ...rows].join("\r\n")}\r\n`;
}

/** RFC 4180, section 2: quotes doubled within quotes. */
function quoted(words: string): string {
  return `"${words.replaceAll('"', '""').replace(/[\r\n]+/g, " ")}"`;
}

export const ABOUT_ENTRIES = `# entries.ndjson

One entry of the notebook on each line, oldest first, as one JSON object in UTF-8:

- \`entry\`: the entry. \`uid\` names it for life; \`kind\` is one of setup, run, temperatures, remark, picture, reading,
  forecast, plan, report; \`at\` is when it happened and \`recorded\` when it was written down (ISO 8601, UTC); \`by\`
  is who wrote it; \`title\` and \`text\` are words; \`element\` is the metal's symbol; \`body\` is what belongs to the
  kind; \`links\` point to other entries by role (run, setup, previous, hot, cold, lamp, dark, reading, corrects);
  \`files\` names files by part, SHA-256, name, media type and size. They lie in \`files/\`, under the first two digits
  of their SHA-256.
- \`digest\`: SHA-256, in hex, of the entry as JSON with sorted keys and no spaces, links sorted by role and uid, files
  by part. It tells whether a line is as it was written.

An entry is never changed: one that corrects it points to it with the role \`corrects\`.

Numbers are in SI units, wavelengths are vacuum wavelengths in metres. A reading's \`body.provenance\` names the version
of the program, a fingerprint of the published data it used, a fingerprint of the setup, the seed, and the SHA-256 of
each picture it was read from, so that it can be computed again.
`;
