/** Published safety sheets that the cautions rest on; data/safety-sheets.json says what each says. */
import data from "../../data/safety-sheets.json" with { type: "json" };

/** Names of sheets, for the source of a caution. An id that is not stored is a fault of the program. */
export function sheets(...ids: readonly string[]): string {
  return ids
    .map((id) => {
      const found = data.sheets.find((sheet) => sheet.id === id);
      if (found === undefined) throw new Error(`safety sheet ${id} is not stored`);
      return found.name;
    })
    .join("; ");
}

export interface MetalFire {
  /** what to keep within reach */
  readonly keep: string;
  /** what never to use */
  readonly never: string;
  readonly source: string;
}

const USUAL_NEVER = "water, foam, carbon dioxide or halon";
const SALT = "a class D metal-fire powder on a base of sodium chloride or sodium carbonate";

/** What puts out a fire of this metal, by the sheets; class D powder where none speaks of it. */
export function metalFire(element: string): MetalFire {
  switch (element) {
    case "Li":
      return {
        keep: "graphite powder, or the class D powder made for lithium",
        never: `${USUAL_NEVER}, nor powders of sodium salts, nor sand: burning lithium takes them apart`,
        source: sheets("hsdb-li", "doe-1081", "rodgers-everson"),
      };
    case "Na":
      return {
        keep: SALT,
        never: USUAL_NEVER,
        source: sheets("doe-1081", "icsc-0717", "princeton-na", "rodgers-everson"),
      };
    case "K":
      return {
        keep: SALT,
        never: `${USUAL_NEVER}, nor graphite, which has exploded on burning potassium`,
        source: sheets("doe-1081", "princeton-k", "ko2-graphite", "rodgers-everson"),
      };
    case "Rb":
    case "Cs":
      return {
        keep: SALT,
        never: `${USUAL_NEVER}, nor graphite, which has exploded on burning potassium`,
        source: `${sheets("purdue-80", "rodgers-everson", "ko2-graphite")}; for ${element} by likeness to potassium`,
      };
    default:
      return {
        keep: "a class D metal-fire powder (sodium chloride, soda ash or graphite)",
        never: USUAL_NEVER,
        source: sheets(...(EARTHS[element] ?? ["doe-1081"])),
      };
  }
}

const EARTHS: Readonly<Record<string, readonly string[]>> = {
  Mg: ["mg-sds"],
  Ca: ["espi-ca"],
  Sr: ["icsc-1534"],
  Ba: ["hsdb-ba"],
  Zn: ["cornell-zn"],
};

/** Sheets that say what a metal does with water and air. */
export function waterSheets(element: string): string {
  const ids: Readonly<Record<string, readonly string[]>> = {
    Li: ["hsdb-li", "espi-li"],
    Na: ["doe-1081", "icsc-0717"],
    K: ["doe-1081", "cameo-4289"],
    Rb: ["purdue-80"],
    Cs: ["espi-cs", "purdue-80"],
    ...EARTHS,
  };
  return sheets(...(ids[element] ?? ["doe-1081"]));
}
