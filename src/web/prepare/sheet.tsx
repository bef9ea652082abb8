/** The run sheet: cautions to acknowledge, local approval, then what to do in its order, with places to tick and to write. */
import { createSignal, createUniqueId, For, type JSX, onCleanup, Show as When } from "solid-js";
import type { RunSheet } from "../../plan/run-sheet.ts";
import { createKept, isRecord, type Kept } from "../planning/kept.ts";
import { HeatTable } from "./heat-table.tsx";
import { saveFile } from "../measure/save-file.ts";
import { Picture } from "./picture.tsx";
import { Text, type Written } from "./write.tsx";

function written(json: unknown): Written | undefined {
  if (!isRecord(json) || !isRecord(json["ticks"]) || !isRecord(json["texts"])) return undefined;
  const ticks = Object.entries(json["ticks"]).filter(
    (each): each is [string, boolean] => typeof each[1] === "boolean",
  );
  const texts = Object.entries(json["texts"]).filter(
    (each): each is [string, string] => typeof each[1] === "string",
  );
  return { ticks: Object.fromEntries(ticks), texts: Object.fromEntries(texts) };
}

export function Sheet(props: {
  readonly sheet: RunSheet;
  readonly html: string;
  readonly storage: Storage | undefined;
  readonly theme: string;
}) {
  const { sheet } = props;
  const kept = createKept<Written>(props.storage, "sheet", sheet.setup, { ticks: {}, texts: {} }, written);
  // The approval is a person's own act for this run: it is never remembered.
  const [approved, setApproved] = createSignal(false);
  const id = createUniqueId();
  const unread = () => sheet.cautions.filter((_, i) => !kept.value().ticks[`caution ${i}`]).length;
  const open = () => approved() && unread() === 0;
  const print = (): void => {
    const root = document.documentElement;
    root.dataset["printing"] = "sheet";
    const after = (): void => {
      delete root.dataset["printing"];
    };
    addEventListener("afterprint", after, { once: true });
    onCleanup(() => removeEventListener("afterprint", after));
    globalThis.print();
  };
  const list = (name: string, items: readonly string[], write?: string): JSX.Element => (
    <ul>
      <For each={items}>
        {(item, i) => (
          <li>
            <Tick kept={kept} place={`${name} ${i()}`}>
              {item}
            </Tick>
            <When when={write}>
              {(label) => (
                <Text kept={kept} place={`${name} ${i()}`} label={`${label()}, ${item}`} hint={label()} />
              )}
            </When>
          </li>
        )}
      </For>
    </ul>
  );
  return (
    <article class="run-sheet" aria-labelledby={`${id}-title`}>
      <header>
        <h3 id={`${id}-title`}>{sheet.title}</h3>
        <p class="quiet">{`Setup ${sheet.setup}, crossprism ${sheet.program}.`}</p>
        <div class="heads">
          <Text kept={kept} place="names" label="names" hint="names" shown />
          <Text kept={kept} place="date" label="date" hint="date" shown />
        </div>
        <p class="deeds screen-only">
          <button type="button" class="word strong" onClick={print}>
            print the sheet
          </button>
          <button
            type="button"
            class="word"
            onClick={() => saveFile(new Blob([props.html], { type: "text/html" }), "run-sheet.html")}
          >
            save it as a page
          </button>
          <button type="button" class="word" onClick={() => kept.put({ ticks: {}, texts: {} })}>
            begin a new day
          </button>
        </p>
      </header>

      <h4>Cautions</h4>
      <p class="quiet screen-only">Read each and tick it. Advice, not a permit.</p>
      <ul class="cautions-read">
        <For each={sheet.cautions}>
          {(caution, i) => (
            <li class={caution.level}>
              <Tick kept={kept} place={`caution ${i()}`}>
                <When when={caution.level === "stop"}>
                  <strong>stop </strong>
                </When>
                {caution.sentence}
                <When when={caution.remedy}>{(remedy) => ` Rather: ${remedy().text}.`}</When>{" "}
                <small class="quiet">{caution.source}</small>
              </Tick>
            </li>
          )}
        </For>
      </ul>

      <h4>Local approval</h4>
      <div class="approval">
        <label class="tick">
          <input
            type="checkbox"
            checked={approved()}
            onChange={(event) => setApproved(event.currentTarget.checked)}
          />
          <span>{sheet.approval}</span>
        </label>
        <div class="heads">
          <Text kept={kept} place="approved by" label="name of the person responsible" hint="name" shown />
          <span class="paper-only">signature ____________________ date ____________</span>
        </div>
      </div>
      <p class="gate screen-only" role="status">
        {open()
          ? "Cautions read and approval given: the steps are open."
          : `${unread() > 0 ? `${unread()} ${unread() === 1 ? "caution is" : "cautions are"} not yet read` : "All cautions are read"}${approved() ? "" : "; approval is not given"}. The steps stay shut.`}
      </p>

      <div class="steps" hidden={!open()}>
        <h4>What is foreseen</h4>
        <p>{sheet.verdict.text}</p>
        <ul>
          <For each={sheet.findings}>
            {(finding) => (
              <li>
                {finding.sentence}
                <When when={finding.remedy}>{(remedy) => <em>{` ${remedy().text}.`}</em>}</When>
              </li>
            )}
          </For>
        </ul>
        <h4>Gather</h4>
        {list("gather", sheet.gather)}
        <h4>Interlocks, before any heat</h4>
        {list("interlock", sheet.interlocks, "initials")}
        <h4>Stop at once if</h4>
        <ul class="stop-now">
          <For each={sheet.stopNow}>{(text) => <li>{text}</li>}</For>
        </ul>
        <h4>Align, in this order</h4>
        <ol>
          <For each={sheet.alignment}>
            {(step, i) => (
              <li>
                <div class="step">
                  <div>
                    <Tick kept={kept} place={`align ${i()}`}>
                      {step.text}
                    </Tick>
                    <When when={step.see}>{(see) => <p class="quiet see">{`See: ${see()}`}</p>}</When>
                    <Text
                      kept={kept}
                      place={`align ${i()}`}
                      label={`initials, step ${i() + 1}`}
                      hint="initials"
                    />
                  </div>
                  <When when={step.picture}>
                    {(picture) => (
                      <Picture image={picture().image} caption={picture().caption} theme={props.theme} />
                    )}
                  </When>
                </div>
              </li>
            )}
          </For>
        </ol>
        <h4>Heat</h4>
        <HeatTable sheet={sheet} kept={kept} theme={props.theme} />
        <h4>Photograph</h4>
        {list("photograph", sheet.photographs, "frame")}
        <h4 class="paper-only">Log</h4>
        <table class="log paper-only">
          <thead>
            <tr>
              <For each={sheet.log}>{(name) => <th>{name}</th>}</For>
            </tr>
          </thead>
          <tbody>
            <For each={Array.from({ length: 12 })}>
              {() => (
                <tr>
                  <For each={sheet.log}>{() => <td />}</For>
                </tr>
              )}
            </For>
          </tbody>
        </table>
        <h4>Cool down</h4>
        {list("cool", sheet.coolDown)}
        <h4>Clear up</h4>
        {list("clear", sheet.clearingUp)}
      </div>
    </article>
  );
}

/** A large box to tick beside its words. */
function Tick(props: {
  readonly kept: Kept<Written>;
  readonly place: string;
  readonly children: JSX.Element;
}) {
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={props.kept.value().ticks[props.place] ?? false}
        onChange={(event) =>
          props.kept.put({
            ticks: { ...props.kept.value().ticks, [props.place]: event.currentTarget.checked },
          })
        }
      />
      <span>{props.children}</span>
    </label>
  );
}
