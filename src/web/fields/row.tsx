/** One field: its name, its value typed freely with a unit, and between them the rule that drags it. */
import { createEffect, createMemo, createSignal, createUniqueId, For, on, Show as When } from "solid-js";
import { parseQuantity, Refusal } from "../../quantity/index.ts";
import type { Field, QuantityField } from "../../setup/field-kinds.ts";
import { type SetupText, type SetupValue, valueAt } from "../state/setup-text.ts";
import type { BenchStore } from "../state/store.ts";
import { choiceWords } from "../words/elements.ts";
import { spoken } from "../words/number.ts";
import { holds, reachOf, shareOf } from "./reach.ts";
import { dragged, shown, typed } from "./written.ts";

export interface RowProps {
  readonly field: Field;
  readonly setup: SetupText;
  readonly store: BenchStore;
  readonly faults: ReadonlyMap<string, string>;
  /** the field has the attention: its sentence is shown */
  readonly onTell: () => void;
}

export function FieldRow(props: RowProps) {
  const id = createUniqueId();
  const value = (): SetupValue | undefined => valueAt(props.setup, props.field.path) ?? presetOf(props.field);
  const [own, setOwn] = createSignal<string>();
  const fault = () => own() ?? props.faults.get(props.field.path);
  const set = (next: SetupValue | undefined, label: string, gesture?: string): void => {
    setOwn(undefined);
    props.store.set({ [props.field.path]: next }, `${props.field.label} ${label}`, gesture);
  };
  const common = () => ({
    id,
    "aria-invalid": fault() !== undefined,
    "aria-describedby": fault() === undefined ? undefined : `${id}-fault`,
    onFocus: props.onTell,
  });

  return (
    <div
      class="row"
      classList={{ preset: valueAt(props.setup, props.field.path) === undefined }}
      onPointerEnter={props.onTell}
    >
      <label for={id}>{props.field.label}</label>
      <div class="value" classList={{ draggable: props.field.kind === "quantity" }}>
        {(() => {
          const { field } = props;
          switch (field.kind) {
            case "quantity":
              return (
                <QuantityInput
                  {...props}
                  field={field}
                  common={common()}
                  text={value()}
                  set={set}
                  refuse={setOwn}
                />
              );
            case "choice":
              return (
                <select
                  {...common()}
                  onChange={(event) => {
                    const chosen = event.currentTarget.value;
                    set(chosen === "" ? undefined : chosen, chosen === "" ? "left out" : choiceWords(chosen));
                  }}
                >
                  <When when={field.optional === true}>
                    <option value="" selected={value() === undefined}>
                      not given
                    </option>
                  </When>
                  <For each={field.options}>
                    {(option) => (
                      <option value={option} selected={value() === option}>
                        {choiceWords(option)}
                      </option>
                    )}
                  </For>
                </select>
              );
            case "flag":
              return (
                <input
                  {...common()}
                  type="checkbox"
                  checked={value() === true}
                  onChange={(event) =>
                    set(event.currentTarget.checked, event.currentTarget.checked ? "yes" : "no")
                  }
                />
              );
            case "integer":
            case "number":
              return (
                <input
                  {...common()}
                  type="text"
                  inputmode="decimal"
                  value={String(value() ?? "")}
                  onChange={(event) => {
                    const number = Number(event.currentTarget.value);
                    if (event.currentTarget.value.trim() !== "" && Number.isFinite(number))
                      set(number, String(number));
                    else
                      setOwn(
                        `Expected a plain number from ${field.min} to ${field.max}, received "${event.currentTarget.value}".`,
                      );
                  }}
                />
              );
            default:
              return (
                <input
                  {...common()}
                  type="text"
                  value={String(value() ?? "")}
                  onChange={(event) => {
                    const text = event.currentTarget.value;
                    set(field.kind === "table" && text.trim() === "" ? undefined : text, text);
                  }}
                />
              );
          }
        })()}
      </div>
      <When when={fault()}>
        {(sentence) => (
          <p class="fault" id={`${id}-fault`} role="alert">
            {sentence()}
          </p>
        )}
      </When>
    </div>
  );
}

function presetOf(field: Field): SetupValue | undefined {
  return "default" in field ? field.default : undefined;
}

function QuantityInput(props: {
  readonly field: QuantityField;
  readonly text: SetupValue | undefined;
  readonly common: Record<string, unknown>;
  readonly store: BenchStore;
  readonly onTell: () => void;
  readonly set: (next: string | undefined, label: string, gesture?: string) => void;
  readonly refuse: (sentence: string | undefined) => void;
}) {
  const text = () => (props.text === undefined ? undefined : String(props.text));
  const value = createMemo(() => siOf(props.field, text()));
  const [editing, setEditing] = createSignal<string>();
  const display = createMemo(
    () => editing() ?? (text() === undefined ? "" : shown(props.field, text() ?? "")),
  );

  // The stretch stays put while its rule is dragged, and moves when a value from elsewhere falls outside.
  const [reach, setReach] = createSignal(reachOf(props.field, value() ?? 1));
  createEffect(
    on(value, (now) => {
      if (now !== undefined && !holds(reach(), now)) setReach(reachOf(props.field, now));
    }),
  );

  const type = (raw: string): void => {
    setEditing(raw);
    const next = typed(props.field, raw, text());
    if (next === "") return;
    try {
      parseQuantity(next, props.field.unit, props.field.label);
      props.set(next, next, `type ${props.field.path}`);
    } catch (fault) {
      if (!(fault instanceof Refusal)) throw fault;
      // Half-typed text is no fault yet; leaving the field decides.
    }
  };
  const leave = (): void => {
    const raw = editing();
    setEditing(undefined);
    props.store.settle();
    if (raw === undefined) return;
    const next = typed(props.field, raw, text());
    if (next === "" && props.field.optional === true) {
      props.set(undefined, "left out");
      return;
    }
    try {
      parseQuantity(next, props.field.unit, props.field.label);
      props.refuse(undefined);
    } catch (fault) {
      if (!(fault instanceof Refusal)) throw fault;
      props.refuse(fault.message);
    }
  };

  return (
    <>
      <When when={value() !== undefined} fallback={<span />}>
        <input
          class="rule"
          type="range"
          min="0"
          max="1000"
          step="1"
          aria-label={`${props.field.label}, drag`}
          aria-valuetext={spoken(display())}
          value={Math.round(1000 * shareOf(reach(), value() ?? 0))}
          onFocus={props.onTell}
          onInput={(event) => {
            const share = Number(event.currentTarget.value) / 1000;
            props.store.pace.soon(() => {
              const next = dragged(props.field, reach(), share, text());
              props.set(next, shown(props.field, next), `drag ${props.field.path}`);
            });
          }}
          onChange={() => props.store.settle()}
        />
      </When>
      <input
        {...props.common}
        type="text"
        autocomplete="off"
        spellcheck={false}
        placeholder={props.field.optional === true ? "not given" : ""}
        value={display()}
        onInput={(event) => type(event.currentTarget.value)}
        onBlur={leave}
        onKeyDown={(event) => {
          if (event.key === "Enter") leave();
          if (event.key === "Escape") {
            setEditing(undefined);
            props.refuse(undefined);
          }
        }}
      />
    </>
  );
}

function siOf(field: QuantityField, text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  try {
    return parseQuantity(text, field.unit, field.path);
  } catch {
    return undefined;
  }
}
