import { Command } from "commander";
import { type Choice, choose, type ChooseWish, type Chosen, OUTCOMES, WISHES } from "../../plan/index.ts";
import { fromCoherent, parseQuantity, Refusal } from "../../quantity/index.ts";
import { digits, print, table, toJson } from "../output.ts";
import { provenanceOf } from "../provenance.ts";
import { openSetup, repeat } from "../setup-file.ts";
import { wholeNumber } from "../work-options.ts";

interface Options {
  readonly best: string;
  readonly atLeast: string[];
  readonly atMost: string[];
  readonly free: string[];
  readonly screen?: string;
  readonly seenFrom?: string;
  readonly shownBy: string;
  readonly forecasts: string;
  readonly list: string;
  readonly set: string[];
  readonly json?: boolean;
}

export function chooseCommand(): Command {
  return new Command("choose")
    .description("the best setups for a wish, within limits, along the trade-off, each with what limits it")
    .argument("<setup>", "setup file to start from")
    .option(
      "--best <wishes>",
      `one to three of ${WISHES.map((word) => word.name).join(", ")}, separated by commas`,
      "tallest",
    )
    .option(
      "--free <field=range>",
      'a parameter that may be changed, such as "vessel.bottom=200..320 degC"; repeatable',
      repeat,
      [],
    )
    .option("--at-least <outcome=value>", 'a limit such as "height=0.3 mm"; repeatable', repeat, [])
    .option("--at-most <outcome=value>", 'a limit such as "halfGap=0.2 nm"; repeatable', repeat, [])
    .option(
      "--screen <width>",
      "width of the screen on which the picture is shown; with --seen-from: the pair must be clearly apart there",
    )
    .option(
      "--shown-by <means>",
      "what shows it there: camera (a projector shows the camera's picture) or light (the lens throws the light itself)",
      "camera",
    )
    .option("--seen-from <distance>", "distance of the last row from the screen")
    .option("--forecasts <number>", "most forecasts to make", "120")
    .option("--list <number>", "most setups in the answer", "5")
    .option("--set <path=value>", "override a field of the setup; repeatable", repeat, [])
    .option("--json", "one JSON document on stdout")
    .action(async (path: string, options: Options) => {
      const { setup } = await openSetup(path, options.set);
      const chosen = choose(setup, {
        wishes: options.best.split(","),
        atLeast: options.atLeast,
        atMost: options.atMost,
        free: options.free,
        ...screenOf(options),
        forecasts: wholeNumber(options.forecasts, "--forecasts", 4, 2000),
        list: wholeNumber(options.list, "--list", 1, 50),
      });
      if (options.json === true) print(toJson({ ...chosen, provenance: provenanceOf(setup) }));
      else print(words(chosen, path));
    });
}

function screenOf({ screen, seenFrom, shownBy: shows }: Options): Pick<ChooseWish, "screen"> {
  if (screen === undefined && seenFrom === undefined) return {};
  if (screen === undefined || seenFrom === undefined) {
    throw new Refusal({
      code: "half-a-screen",
      field: screen === undefined ? "--screen" : "--seen-from",
      received: "nothing",
      expected: "--screen and --seen-from together",
    });
  }
  const positive = (text: string, field: string): number => {
    const value = parseQuantity(text, "m", field);
    if (value > 0) return value;
    throw new Refusal({ code: "not-positive", field, received: `"${text}"`, expected: "a length above 0" });
  };
  if (shows !== "camera" && shows !== "light") {
    throw new Refusal({
      code: "unknown-means",
      field: "--shown-by",
      received: JSON.stringify(shows),
      expected: "one of camera, light",
    });
  }
  return {
    screen: { shows, width: positive(screen, "--screen"), distance: positive(seenFrom, "--seen-from") },
  };
}

const SHOWN = [
  "height",
  "halfGap",
  "pairTimes",
  "bridgeDetails",
  "screenLuminance",
  "supersaturation",
  "bottom",
  "warmUp",
  "metalLoss",
];

function words(chosen: Chosen, path: string): string {
  const list = chosen.choices.length > 0 ? chosen.choices : chosen.nearest === null ? [] : [chosen.nearest];
  if (list.length === 0)
    return "None of the setups tried shows a line at all: let more be free, or take another start.";
  const columns = OUTCOMES.filter(
    (word) => SHOWN.includes(word.name) && list.some((choice) => choice.outcome[word.name] !== null),
  );
  const header = [
    "",
    ...columns.map((word) => (word.show === "1" ? word.label : `${word.label}, ${word.show}`)),
  ];
  const body = list.map((choice, i) => [
    String(i + 1),
    ...columns.map((word) => {
      const value = choice.outcome[word.name];
      return value === null ? "none" : digits(fromCoherent(value, word.show), 3);
    }),
  ]);
  const none = chosen.choices.length > 0 ? [] : ["Nothing keeps all limits; this comes nearest:"];
  return [
    ...none,
    table([header, ...body]),
    ...list.map((choice, i) => opening(choice, i, path)),
    `${chosen.forecasts} forecasts made.`,
  ].join("\n");
}

function opening(choice: Choice, i: number, path: string): string {
  const set = Object.entries(choice.set).map(([field, value]) => `--set "${field}=${value}"`);
  const held = choice.limitedBy.length === 0 ? "nothing holds it" : `held by ${choice.limitedBy.join(", ")}`;
  return `${i + 1}: crossprism check ${path} ${set.join(" ")}\n   ${held}`;
}
