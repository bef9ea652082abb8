/** The run sheet as one page that needs nothing else: for the wall in black and white, for the screen with boxes to tick. */
import { pngAddress, type RunPicture } from "./run-pictures.ts";
import { heatingTime, powerWords, type RunSheet } from "./run-sheet.ts";

/** Text made harmless for HTML. */
export function escapeHtml(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}

const t = escapeHtml;

const STYLE = `
:root { color-scheme: light dark; --paper: #fff; --ink: #111; --faint: #666; --rule: #999; --stop: #a00; }
@media (prefers-color-scheme: dark) { :root { --paper: #100; --ink: #f66; --faint: #b44; --rule: #622; --stop: #f88; } img { filter: invert(1) sepia(1) hue-rotate(-50deg) saturate(4); } }
body { background: var(--paper); color: var(--ink); font: 16px/1.4 system-ui, sans-serif; max-width: 60rem; margin: 1rem auto; padding: 0 1rem; }
h1 { font-size: 1.5rem; margin: 0; } h2 { font-size: 1.1rem; border-bottom: 1px solid var(--rule); margin: 1.5rem 0 .5rem; }
ul, ol { padding-left: 0; list-style: none; } li { margin: .4rem 0; break-inside: avoid; }
label { display: flex; gap: .6rem; align-items: baseline; } input[type=checkbox] { accent-color: var(--ink); width: 1.4rem; height: 1.4rem; flex: none; }
.stop { font-weight: 700; } .stop::before { content: "STOP "; color: var(--stop); }
.approval { border: 3px solid var(--ink); padding: .8rem; margin: 1rem 0; break-inside: avoid; }
.line { display: inline-block; border-bottom: 1px solid var(--ink); min-width: 9rem; } .short { min-width: 4rem; }
.see, .source { color: var(--faint); } figure { margin: .3rem 0; break-inside: avoid; } img { width: 200px; image-rendering: pixelated; border: 1px solid var(--rule); } figcaption { font-size: .85rem; }
table { border-collapse: collapse; width: 100%; } td, th { border: 1px solid var(--rule); padding: .3rem; text-align: left; vertical-align: top; } .log td { height: 1.6rem; } .heat td:nth-child(-n+4) { white-space: nowrap; }
.gate { border: 3px solid var(--stop); padding: .6rem; font-weight: 700; }
#approved:checked ~ .gate { display: none; }
@media screen { #approved:not(:checked) ~ .steps { opacity: .35; } }
@media print { body { font-size: 11px; margin: 0; } .gate { display: none; } img { width: 150px; filter: none; } input[type=checkbox] { appearance: none; border: 1px solid #000; width: .9rem; height: .9rem; } }
`;

const ticked = (text: string, tail = "", below = ""): string =>
  `<li><label><input type="checkbox" autocomplete="off"><span>${t(text)}${tail}</span></label>${below}</li>`;
const INITIALS = ' <span class="line short">&nbsp;</span>';

function image({ png, columns, rows }: RunPicture, caption: string): string {
  return `<figure><img src="${pngAddress(png)}" width="${columns}" height="${rows}" alt="${t(`predicted picture, negative: ${caption}`)}"><figcaption>${t(caption)}</figcaption></figure>`;
}

/** A whole HTML document. The box of approval comes unticked and is not remembered. */
export function runSheetHtml(sheet: RunSheet): string {
  const list = (items: readonly string[]): string => `<ul>${items.map((item) => ticked(item)).join("")}</ul>`;
  const cautions = sheet.cautions.map((caution) => {
    const rather = caution.remedy === undefined ? "" : ` Rather: ${caution.remedy.text}.`;
    return `<li><label><input type="checkbox" autocomplete="off"><span><span class="${caution.level}">${t(caution.sentence)}</span>${t(rather)} <small class="source">${t(caution.source)}</small></span></label></li>`;
  });
  const steps = sheet.alignment.map((step) => {
    const see = step.see === undefined ? "" : `<br><span class="see">See: ${t(step.see)}</span>`;
    const picture = step.picture === undefined ? "" : image(step.picture.image, step.picture.caption);
    return ticked(step.text, INITIALS + see, picture);
  });
  const heating = sheet.heating.map((row) => {
    const picture =
      row.picture === undefined ? "" : image(row.picture, `${Math.round(row.bottom - 273.15)} °C`);
    return `<tr><td>${Math.round(row.time / 60)} min</td><td>${Math.round(row.power)} W</td><td>${Math.round(row.bottom - 273.15)} °C</td><td>${Math.round(row.top - 273.15)} °C</td><td>${t([row.mark, row.see].filter((part) => part !== "").join("; "))}${picture}</td><td class="line">&nbsp;</td></tr>`;
  });
  const findings = sheet.findings.map(
    (finding) =>
      `<li>${t(finding.sentence)}${finding.remedy === undefined ? "" : ` <em>${t(finding.remedy.text)}.</em>`}</li>`,
  );
  const log = `<table class="log"><tr>${sheet.log.map((name) => `<th>${t(name)}</th>`).join("")}</tr>${Array.from({ length: 12 }, () => `<tr>${"<td></td>".repeat(sheet.log.length)}</tr>`).join("")}</table>`;
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${t(`Run sheet: ${sheet.title}`)}</title><style>${STYLE}</style></head><body>
<h1>${t(sheet.title)}</h1>
<p>Run sheet. Setup ${t(sheet.setup)}, crossprism ${t(sheet.program)}. Names <span class="line">&nbsp;</span> Date <span class="line short">&nbsp;</span></p>
<h2>Cautions</h2><ul>${cautions.join("")}</ul>
<h2>Local approval</h2>
<input type="checkbox" id="approved" autocomplete="off" aria-describedby="approval"><label for="approved" style="display:inline"><strong>Ticked by hand by the person responsible</strong></label>
<div class="approval" id="approval">${t(sheet.approval)}<p>Name <span class="line">&nbsp;</span> Signature <span class="line">&nbsp;</span> Date <span class="line short">&nbsp;</span></p></div>
<p class="gate" role="status">Not approved: nothing below may be done before the box above is ticked.</p>
<div class="steps">
<h2>What is foreseen</h2><p>${t(sheet.verdict.text)}</p><ul>${findings.join("")}</ul>
<h2>Gather</h2>${list(sheet.gather)}
<h2>Interlocks, before any heat</h2><ul>${sheet.interlocks.map((item) => ticked(item, INITIALS)).join("")}</ul>
<h2>Stop at once if</h2><ul>${sheet.stopNow.map((item) => `<li class="stop">${t(item)}</li>`).join("")}</ul>
<h2>Align, in this order</h2><ul>${steps.join("")}</ul>
<h2>Heat</h2><p>Ready after ${t(heatingTime(sheet))}. ${t(sheet.heat.sentence)} By hand: ${t(powerWords(sheet.heat))}. Pictures are negatives of what the camera should see.</p>
<table class="heat"><tr><th>after</th><th>set</th><th>metal</th><th>top</th><th>what should be seen</th><th>read, at</th></tr>${heating.join("")}</table>
<h2>Photograph</h2><ul>${sheet.photographs.map((item) => ticked(item, INITIALS)).join("")}</ul>
<h2>Log</h2>${log}
<h2>Cool down</h2>${list(sheet.coolDown)}
<h2>Clear up</h2>${list(sheet.clearingUp)}
</div></body></html>
`;
}
