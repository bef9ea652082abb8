import type { Field } from "./field-kinds.ts";
import { PLACE_FORM } from "./places.ts";

/** "a length between 1 mm and 500 mm" and the like: completes "expected …". */
export function expectation(field: Field): string {
  switch (field.kind) {
    case "text":
      return "text";
    case "flag":
      return "true or false";
    case "choice":
      return `one of ${field.options.join(", ")}`;
    case "integer":
      return `a whole number from ${field.min} to ${field.max}`;
    case "number":
      return `a number from ${field.min} to ${field.max}`;
    case "table":
      return `rows such as ["500 nm", ${field.unit === "1" ? "0.8" : `"1 ${field.unit}"`}], wavelengths ascending, ${field.columns.join(" or ")} value${field.columns.at(-1) === 1 ? "" : "s"} from ${field.min} to ${field.max}${field.unit === "1" ? "" : ` ${field.unit}`} beside each`;
    case "by-line":
      return `numbers from ${field.min} to ${field.max} by line id`;
    case "places":
      return `text by name, such as ${PLACE_FORM}`;
    case "quantity": {
      const low = `${field.min} ${field.unit}`;
      return `a quantity such as "${field.default ?? `1 ${field.show}`}", ${field.openMin === true ? "above" : "from"} ${low} to ${field.max} ${field.unit}`;
    }
  }
}
