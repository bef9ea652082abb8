/** Two setups held against each other: pictures side by side or blended, and what differs in numbers. */
import { createEffect, createSignal, createUniqueId, For, onCleanup, Show as When } from "solid-js";
import { Choice } from "../figure/choice.tsx";
import type { LeafProps } from "../leaf-props.ts";
import { type Bench, benchFrom } from "../state/bench.ts";
import { shownOf } from "../state/sight.ts";
import { valueAt } from "../state/setup-text.ts";
import { Text } from "../words/text.tsx";
import { newestWins } from "../worker/client.ts";
import type { ForeseeRequest, Sight, SightPicture } from "../worker/protocol.ts";
import { keepHeld, readHeld } from "./held.ts";
import { differences, numbersOf } from "./rows.ts";
import "./compare.css";

const WAYS = ["side by side", "blended"] as const;

export default function Compare(props: LeafProps) {
  const [held, setHeld] = createSignal<Bench["setup"] | undefined>(readHeld(props.storage));
  const [sight, setSight] = createSignal<Sight>();
  const [picture, setPicture] = createSignal<SightPicture>();
  const [trouble, setTrouble] = createSignal<string>();
  const [way, setWay] = createSignal<(typeof WAYS)[number]>("side by side");
  const [share, setShare] = createSignal(50);
  const id = createUniqueId();
  const foresight = newestWins<ForeseeRequest>(props.startForesight);
  onCleanup(() => foresight.close());
  let opener!: HTMLInputElement;

  createEffect(() => {
    const setup = held();
    setSight(undefined);
    if (setup === undefined) return;
    foresight.ask(
      {
        task: "foresee",
        setup,
        ...shownOf(props.store.bench().view),
        // A minute belongs to the heater of the setup on the bench.
        minute: null,
        red: props.theme.theme() === "red",
        precision: "exact",
        wanted: "all",
      },
      (outcome) => {
        if (outcome.outcome === "done") {
          setTrouble(undefined);
          setPicture(outcome.answer.picture);
          setSight(outcome.answer.sight);
        } else setTrouble(outcome.outcome === "refused" ? outcome.sentences.join(" ") : outcome.sentence);
      },
    );
  });

  const hold = (setup: Bench["setup"]): void => {
    setHeld(setup);
    keepHeld(props.storage, setup);
  };
  const open = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    try {
      const bench = benchFrom(JSON.parse(await file.text()));
      if (bench === undefined) throw new Error("no setup in it");
      hold(bench.setup);
      setTrouble(undefined);
    } catch {
      setTrouble(`${file.name}: expected a setup file (JSON with the groups medium, vessel, path, camera).`);
    }
    opener.value = "";
  };
  const change = (): void => {
    const setup = held();
    if (setup === undefined) return;
    hold(props.store.bench().setup);
    props.store.replace({ ...props.store.bench(), setup }, "changed places with the held setup");
  };
  const title = (setup: Bench["setup"]): string => String(valueAt(setup, "title") ?? "Untitled");

  return (
    <div class="compare">
      <p class="compare-doings">
        <button type="button" class="word" onClick={() => hold(props.store.bench().setup)}>
          hold the open setup
        </button>
        <button type="button" class="word" onClick={() => opener.click()}>
          hold one from a file
        </button>
        <When when={held()}>
          <button type="button" class="word" onClick={change}>
            change places
          </button>
          <Choice label="How the two pictures lie" options={WAYS} value={way()} onChoose={setWay} />
        </When>
        <input
          ref={opener}
          type="file"
          accept="application/json,.json"
          hidden
          aria-label="Setup file to hold"
          onChange={(event) => void open(event.currentTarget.files?.[0])}
        />
      </p>
      <When when={trouble()}>
        {(sentence) => (
          <p class="fault" role="alert">
            {sentence()}
          </p>
        )}
      </When>
      <When
        when={held()}
        fallback={
          <p class="quiet">
            Hold a setup here, then change the one on the bench: the two pictures and their numbers stand
            together.
          </p>
        }
      >
        {(setup) => (
          <When when={sight()} fallback={<p class="waiting">The held setup is being computed…</p>}>
            {(heldSight) => (
              <When when={props.sights.sight()}>
                {(openSight) => (
                  <>
                    <div class="pair" classList={{ blended: way() === "blended" }}>
                      <Picture picture={picture()} caption={`held: ${title(setup())}`} opacity={1} />
                      <Picture
                        picture={props.sights.picture()}
                        caption={`on the bench: ${title(props.store.bench().setup)}`}
                        opacity={way() === "blended" ? share() / 100 : 1}
                      />
                    </div>
                    <When when={way() === "blended"}>
                      <p>
                        <label for={id}>share of the one on the bench</label>{" "}
                        <input
                          id={id}
                          class="rule"
                          type="range"
                          min="0"
                          max="100"
                          value={share()}
                          aria-valuetext={`${share()} per cent`}
                          onInput={(event) => setShare(Number(event.currentTarget.value))}
                        />
                      </p>
                    </When>
                    <Numbers held={heldSight()} open={openSight()} />
                    <Differences held={setup()} open={props.store.bench().setup} />
                  </>
                )}
              </When>
            )}
          </When>
        )}
      </When>
    </div>
  );
}

function Picture(props: {
  readonly picture: SightPicture | undefined;
  readonly caption: string;
  readonly opacity: number;
}) {
  let canvas!: HTMLCanvasElement;
  createEffect(() => {
    if (props.picture === undefined) return;
    const { columns, rows, rgba } = props.picture;
    // While a rule is dragged the last exact picture stays.
    if (rgba === undefined) return;
    canvas.width = columns;
    canvas.height = rows;
    canvas.getContext("2d")?.putImageData(new ImageData(rgba, columns, rows), 0, 0);
  });
  createEffect(() => {
    canvas.style.opacity = String(props.opacity);
  });
  return (
    <figure>
      <canvas ref={canvas} role="img" aria-label={`Predicted picture, ${props.caption}`} />
      <figcaption>{props.caption}</figcaption>
    </figure>
  );
}

function Numbers(props: { readonly held: Sight; readonly open: Sight }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">number</th>
          <th scope="col">held</th>
          <th scope="col">on the bench</th>
          <th scope="col">bench over held</th>
        </tr>
      </thead>
      <tbody>
        <For each={numbersOf(props.held, props.open)}>
          {(row) => (
            <tr>
              <th scope="row">{row.name}</th>
              <td>
                <Text of={row.held} />
              </td>
              <td>
                <Text of={row.open} />
              </td>
              <td>{row.ratio}</td>
            </tr>
          )}
        </For>
      </tbody>
    </table>
  );
}

function Differences(props: { readonly held: Bench["setup"]; readonly open: Bench["setup"] }) {
  const rows = () => differences(props.held, props.open);
  return (
    <When when={rows().length > 0} fallback={<p class="quiet">No field differs.</p>}>
      <table>
        <thead>
          <tr>
            <th scope="col">field that differs</th>
            <th scope="col">held</th>
            <th scope="col">on the bench</th>
          </tr>
        </thead>
        <tbody>
          <For each={rows()}>
            {(row) => (
              <tr>
                <th scope="row">{row.label}</th>
                <td>{row.held}</td>
                <td>{row.open}</td>
              </tr>
            )}
          </For>
        </tbody>
      </table>
    </When>
  );
}
