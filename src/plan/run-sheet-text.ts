/** The run sheet as plain text, for a printer or a terminal. */
import { heatingTime, powerWords, type RunSheet } from "./run-sheet.ts";

const box = (text: string): string => `[ ] ${text}`;

export function runSheetText(sheet: RunSheet): string {
  const heading = (text: string): string => `\n${text.toUpperCase()}`;
  return [
    `RUN SHEET: ${sheet.title}`,
    `setup ${sheet.setup}, crossprism ${sheet.program}`,
    "names ______________________________   date ____________",
    heading("Cautions"),
    ...sheet.cautions.map((caution) =>
      box(
        `${caution.level === "stop" ? "STOP: " : ""}${caution.sentence}${caution.remedy === undefined ? "" : ` Rather: ${caution.remedy.text}.`}`,
      ),
    ),
    heading("Local approval: tick by hand, or do not go on"),
    box(sheet.approval),
    "    name ____________________   signature ____________________   date ____________",
    heading("What is foreseen"),
    sheet.verdict.text,
    ...sheet.findings.map(
      (finding) =>
        `- ${finding.level}: ${finding.sentence}${finding.remedy === undefined ? "" : ` Remedy: ${finding.remedy.text}.`}`,
    ),
    heading("Gather"),
    ...sheet.gather.map(box),
    heading("Interlocks, before any heat"),
    ...sheet.interlocks.map((text) => `${box(text)}   initials ______`),
    heading("Stop at once if"),
    ...sheet.stopNow.map((text) => `! ${text}`),
    heading("Align, in this order"),
    ...sheet.alignment.flatMap((step, i) => [
      `${box(`${i + 1}. ${step.text}`)}   initials ______`,
      ...(step.see === undefined ? [] : [`      see: ${step.see}`]),
    ]),
    heading(`Heat (ready after ${heatingTime(sheet)})`),
    sheet.heat.sentence,
    `By hand: ${powerWords(sheet.heat)}.`,
    ...sheet.heating.map((row) => {
      const at = `${String(Math.round(row.time / 60)).padStart(4)} min  set ${String(Math.round(row.power)).padStart(4)} W  metal ${String(Math.round(row.bottom - 273.15)).padStart(4)} °C  top ${String(Math.round(row.top - 273.15)).padStart(4)} °C`;
      return `${at}   ${row.mark === "" ? "" : `${row.mark}; `}${row.see}   read ______ °C at ______`;
    }),
    heading("Photograph"),
    ...sheet.photographs.map((text) => `${box(text)}   frame ____________`),
    heading("Log"),
    sheet.log.join(" | "),
    ...Array.from({ length: 8 }, () => sheet.log.map((name) => "_".repeat(name.length)).join(" | ")),
    heading("Cool down"),
    ...sheet.coolDown.map(box),
    heading("Clear up"),
    ...sheet.clearingUp.map(box),
    "",
  ].join("\n");
}
