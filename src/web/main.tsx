import { render } from "solid-js/web";
import demo from "../../examples/blue-twins.json" with { type: "json" };
import { App } from "./app.tsx";
import { keepForOffline } from "./offline/keep.ts";
import { saveBench } from "./state/memory.ts";
import { openBench } from "./state/opening.ts";
import { createBenchStore } from "./state/store.ts";
import { tabName } from "./state/tab.ts";
import "./style/tokens.css";
import "./style/page.css";
import "./style/fields.css";
import "./style/findings.css";
import "./style/bench.css";
import "./style/day.css";
import "./style/figure.css";
import "./style/print.css";

/** The browser may forbid storage; the page then works without memory. */
function storageIfAllowed(which: "localStorage" | "sessionStorage"): Storage | undefined {
  try {
    return globalThis[which];
  } catch {
    return undefined;
  }
}

/** Rest after opening before the page is kept for times without a server, ms. */
const KEEP_AFTER = 4000;

async function servedSetup(): Promise<unknown> {
  const response = await fetch("./setup.json", { headers: { accept: "application/json" } });
  if (response.status === 204 || response.status === 404) return undefined;
  if (!response.ok)
    throw new Error(`The setup file could not be fetched (${response.status}); another bench is shown.`);
  return response.json();
}

const newForesight = (): Worker =>
  new Worker(new URL("./worker/foresee-worker.ts", import.meta.url), { type: "module", name: "foresight" });
const inAudience = location.pathname.endsWith("/audience");
/** The first one loads its program while the page still finds out which bench to open. */
let early = inAudience ? undefined : newForesight();
// Nobody listens yet: one that cannot be loaded is left, and the next tells.
early?.addEventListener("error", () => {
  early = undefined;
});
function startForesight(): Worker {
  const worker = early ?? newForesight();
  early = undefined;
  return worker;
}
/** Loaded when the first photograph is read. */
const startReader = (): Worker =>
  new Worker(new URL("./worker/read-worker.ts", import.meta.url), { type: "module", name: "reader" });

async function begin(): Promise<void> {
  const root = document.getElementById("page");
  if (root === null) throw new Error("the page has no place to stand");
  if (inAudience) {
    const { openAudience } = await import("./audience/window.tsx");
    openAudience(root);
    return;
  }
  const session = storageIfAllowed("sessionStorage");
  const storage = storageIfAllowed("localStorage");
  const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel("crossprism") : undefined;
  const tab = session === undefined ? crypto.randomUUID() : await tabName(session, channel);
  const opening = await openBench({ hash: location.hash, tab, storage, served: servedSetup, demo });
  render(() => {
    const store = createBenchStore(opening.bench, (bench) => {
      if (storage !== undefined) saveBench(storage, tab, bench, Date.now());
      // The address showed another state: a reload must bring back this one.
      if (location.hash !== "") history.replaceState(null, "", location.pathname);
    });
    return (
      <App
        store={store}
        startForesight={startForesight}
        startReader={startReader}
        sentence={opening.sentence}
        storage={storage}
      />
    );
  }, root);
  // Not while the first picture is being computed.
  setTimeout(keepForOffline, KEEP_AFTER);
}

void begin();
