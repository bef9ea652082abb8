/** The fields of the chosen element, hung from it on a thread. Every field comes from the core's table. */
import { createEffect, createMemo, createSignal, For, Show as When } from "solid-js";
import type { Field } from "../../setup/field-kinds.ts";
import { fieldAt } from "../../setup/fields.ts";
import type { ElementId } from "../state/bench.ts";
import { hasGroup, type SetupText, valueAt } from "../state/setup-text.ts";
import type { BenchStore } from "../state/store.ts";
import { ELEMENT_WORDS } from "../words/elements.ts";
import { elementWords } from "../words/vessels.ts";
import { FieldRow } from "./row.tsx";
import { rangeText } from "./written.ts";

export interface SheetProps {
  readonly element: ElementId;
  readonly setup: SetupText;
  readonly store: BenchStore;
  /** sentences by the path of the field at fault */
  readonly faults: ReadonlyMap<string, string>;
}

export function FieldSheet(props: SheetProps) {
  const words = () => ({
    ...ELEMENT_WORDS[props.element],
    ...elementWords(props.element, valueAt(props.setup, "vessel.kind")),
  });
  const [told, setTold] = createSignal<Field>();
  const [sentenceOf, setSentenceOf] = createSignal<(field: Field) => string>(() => "");
  const tell = (field: Field): void => {
    setTold(field);
    void import("./sentences.ts").then((module) => setSentenceOf(() => module.sentenceOf));
  };
  const toldSentence = (): string => {
    const field = told();
    return field === undefined ? words().sentence : sentenceOf()(field);
  };
  const read = (paths: readonly string[]): readonly Field[] =>
    paths
      .map((path) => fieldAt(path))
      .filter((field) => field !== undefined && applies(field, props.setup)) as Field[];
  const fields = createMemo(() => read(words().fields));
  const finer = createMemo(() => read(words().finer ?? []));

  // A fault must be seen; otherwise the person opens and closes.
  const openAtFault = (details: HTMLDetailsElement): void => {
    createEffect(() => {
      if (finer().some((field) => props.faults.has(field.path))) details.open = true;
    });
  };

  return (
    <section class="sheet" aria-label={`Fields of the ${words().name}`} onFocusOut={() => setTold(undefined)}>
      <h2>{words().name}</h2>
      <For each={fields()}>{(field) => <FieldRow field={field} {...props} onTell={() => tell(field)} />}</For>
      <When when={finer().length > 0}>
        <details ref={openAtFault}>
          <summary>{`${finer().length} finer settings`}</summary>
          <For each={finer()}>
            {(field) => <FieldRow field={field} {...props} onTell={() => tell(field)} />}
          </For>
        </details>
      </When>
      <p class="tell">
        {toldSentence()} <span class="origin">{originOf(told(), props.setup)}</span>
      </p>
    </section>
  );
}

/** Whether the setup as it stands reads the field: its group stands, no group replaces it, another field asks for it. */
function applies(field: Field, setup: SetupText): boolean {
  if (field.group !== undefined && !hasGroup(setup, field.group)) return false;
  if (field.unless?.some((group) => hasGroup(setup, group)) === true) return false;
  if (field.when === undefined) return true;
  const other = fieldAt(field.when.path);
  const preset = other !== undefined && "default" in other ? other.default : undefined;
  return field.when.is.includes(String(valueAt(setup, field.when.path) ?? preset));
}

/** Legal range and where the value comes from. */
function originOf(field: Field | undefined, setup: SetupText): string {
  if (field === undefined) return "";
  const given =
    valueAt(setup, field.path) !== undefined ? "Set in this setup." : "Not set: the usual value stands in.";
  switch (field.kind) {
    case "quantity":
      return `${given} Allowed: ${rangeText(field)}.`;
    case "integer":
    case "number":
      return `${given} Allowed: ${field.min} to ${field.max}.`;
    default:
      return given;
  }
}
