/** The leaf that holds the day's run sheet, on the screen and for the wall. */
import { createSignal, Show as When } from "solid-js";
import type { LeafProps } from "../leaf-props.ts";
import { createJob } from "../planning/job.ts";
import type { Answers } from "../planning/protocol.ts";
import { Running } from "../planning/running.tsx";
import { Sheet } from "./sheet.tsx";
import "../planning/planning.css";
import "./prepare.css";

export default function Prepare(props: LeafProps) {
  const setup = () => props.store.bench().setup;
  const job = createJob<"sheet">();
  const [drawnFor, setDrawnFor] = createSignal<unknown>();
  const draw = (): void => {
    setDrawnFor(setup());
    job.ask({ task: "sheet", setup: setup() });
  };
  draw();
  const old = () => drawnFor() !== setup() && !job.busy();
  return (
    <div class="prepare planning" aria-busy={job.busy()}>
      <Running job={job} doing="drawing up the sheet, with a picture for each step" />
      <When when={old()}>
        <p class="deeds" role="status">
          <span>The bench has changed since this sheet was drawn up.</span>
          <button type="button" class="word strong" onClick={draw}>
            draw it up anew
          </button>
        </p>
      </When>
      <When when={job.answer()} keyed>
        {({ sheet, html }: Answers["sheet"]) => (
          <Sheet sheet={sheet} html={html} storage={props.storage} theme={props.theme.theme()} />
        )}
      </When>
    </div>
  );
}
