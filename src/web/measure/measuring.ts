/** What the leaf knows: the frames, their reading, diagnosis and comparison, and practice pictures; all work is the worker's. */
import { type Accessor, createEffect, createSignal, onCleanup } from "solid-js";
import type { JsonObject } from "../../setup/index.ts";
import type { SetupText } from "../state/setup-text.ts";
import { newestWins, type Post } from "../worker/client.ts";
import type { Outcome } from "../worker/protocol.ts";
import type { Aim } from "./aim.ts";
import type { Read } from "./hand.ts";
import { dropped, type Photographs, type PhotoPlace, PLACES, samePhoto } from "./photographs.ts";
import type {
  CompareRequest,
  Comparison,
  DiagnoseRequest,
  Frames,
  GreyView,
  PhotoReading,
  Practice,
  PracticeRequest,
  ReadRequest,
  SaidDiagnosis,
  ViewRequest,
} from "./protocol.ts";

export interface Measuring {
  readonly photographs: Photographs;
  readonly lampLines: Accessor<string>;
  readonly setLampLines: (text: string) => void;
  /** what is being done, undefined where nothing is */
  readonly busy: Accessor<string | undefined>;
  readonly answer: Accessor<PhotoReading | undefined>;
  /** the answer with the photograph that it is of */
  readonly read: Accessor<Read | undefined>;
  /** the hot picture as long as it is not read, undefined before it is unpacked */
  readonly aim: Accessor<Aim | undefined>;
  /** what could not be done, in sentences */
  readonly troubles: Accessor<readonly string[]>;
  readonly setTroubles: (sentences: readonly string[]) => void;
  readonly diagnosis: Accessor<SaidDiagnosis | undefined>;
  readonly comparison: Accessor<Comparison | undefined>;
  /** what the practice pictures in the wells were made with */
  readonly truth: Accessor<Practice["truth"] | undefined>;
  /** the frames beside the hot one, and what the lamp is */
  readonly others: () => Omit<Frames, "hot">;
  /** what was marked by hand on the hot picture, as its file has it */
  readonly marks: () => JsonObject | undefined;
  /** true where the marks by hand are no longer those that the answer took in */
  readonly marksChanged: () => boolean;
  measure(): void;
  diagnose(): void;
  compare(): void;
  practise(): void;
}

/** @param marksOn what was marked by hand on a photograph, as its file has it */
export function createMeasuring(
  setup: Accessor<SetupText>,
  start: () => Post,
  marksOn: (photo: File) => JsonObject | undefined,
): Measuring {
  const { photographs } = dropped;
  const reader = newestWins<ReadRequest | DiagnoseRequest>(start);
  const artist = newestWins<ViewRequest | PracticeRequest | CompareRequest>(start);
  const [lampLines, setLampLines] = createSignal("Ar, Ne");
  const [busy, setBusy] = createSignal<string>();
  const [seen, setSeen] = createSignal<Aim>();
  const [read, setRead] = createSignal<Read & { readonly marks: JsonObject | undefined }>();
  const [troubles, setTroubles] = createSignal<readonly string[]>([]);
  const [diagnosis, setDiagnosis] = createSignal<SaidDiagnosis>();
  const [comparison, setComparison] = createSignal<Comparison>();
  const [truth, setTruth] = createSignal<Practice["truth"]>();
  const [hidden, setHidden] = createSignal<{ readonly hot: File; readonly truth: Practice["truth"] }>();
  onCleanup(() => {
    reader.close();
    artist.close();
  });

  const others = (): Omit<Frames, "hot"> => {
    const [cold, lamp] = [photographs.file("cold"), photographs.file("lamp")];
    return {
      ...(cold === undefined ? {} : { cold }),
      ...(lamp === undefined ? {} : { lamp }),
      dark: photographs.darks(),
      lampLines: lampLines(),
    };
  };
  const marks = (): JsonObject | undefined => {
    const hot = photographs.file("hot");
    return hot && marksOn(hot);
  };
  const unread = (): File | undefined => {
    const hot = photographs.file("hot");
    const now = read();
    return hot !== undefined && !(now !== undefined && samePhoto(now.photo, hot)) ? hot : undefined;
  };
  let shown: string | undefined;
  createEffect(() => {
    const photo = unread();
    const turn = marks()?.["turn"] as ViewRequest["turn"];
    const wanted = photo && `${photo.name} ${photo.size} ${photo.lastModified} ${turn ?? ""}`;
    if (wanted === shown) return;
    shown = wanted;
    if (photo === undefined) return;
    artist.ask({ task: "view", photo, turn }, (done) => {
      if (done.outcome === "done") setSeen({ photo, view: done.answer as GreyView });
      else setTroubles(done.outcome === "refused" ? done.sentences : [done.sentence]);
    });
  });
  const frames = (): (Frames & { readonly marks?: JsonObject }) | undefined => {
    const hot = photographs.file("hot");
    if (hot === undefined) return undefined;
    const marked = marks();
    return { hot, ...others(), ...(marked === undefined ? {} : { marks: marked }) };
  };
  /** Takes an answer, or says why there is none. */
  const taking =
    <A>(take: (answer: A) => void) =>
    (done: Outcome<A>): void => {
      setBusy(undefined);
      if (done.outcome === "done") take(done.answer);
      else setTroubles(done.outcome === "refused" ? done.sentences : [done.sentence]);
    };

  const measure = (): void => {
    const given = frames();
    if (given === undefined) return;
    setTroubles([]);
    setBusy("reading…");
    const practised = hidden();
    setTruth(practised?.hot === given.hot ? practised.truth : undefined);
    reader.ask(
      { task: "read", setup: setup(), ...given },
      taking((done) => {
        setDiagnosis(undefined);
        setComparison(undefined);
        setRead({ reading: done as PhotoReading, photo: given.hot, marks: given.marks });
      }),
    );
  };

  return {
    photographs,
    lampLines,
    setLampLines,
    busy,
    answer: () => read()?.reading,
    read,
    aim() {
      const [now, photo] = [seen(), unread()];
      return now !== undefined && photo !== undefined && samePhoto(now.photo, photo) ? now : undefined;
    },
    troubles,
    setTroubles,
    diagnosis,
    comparison,
    truth,
    others,
    marks,
    marksChanged() {
      const now = read();
      return now !== undefined && JSON.stringify(marksOn(now.photo)) !== JSON.stringify(now.marks);
    },
    measure,
    diagnose() {
      const given = frames();
      if (given === undefined) return;
      setBusy("looking for causes…");
      reader.ask(
        { task: "diagnose", setup: setup(), ...given },
        taking((done) => setDiagnosis(done as SaidDiagnosis)),
      );
    },
    compare() {
      const hot = photographs.file("hot");
      if (hot === undefined || comparison() !== undefined) return;
      artist.ask(
        { task: "compare", setup: setup(), hot },
        taking((done) => setComparison(done as Comparison)),
      );
    },
    practise() {
      setTroubles([]);
      setBusy("taking practice pictures…");
      const seed = 1 + Math.floor(Math.random() * 1e6);
      artist.ask(
        { task: "practice", setup: setup(), seed },
        taking((done) => {
          const practice = done as Practice;
          const file = (part: PhotoPlace): File =>
            new File([practice[part]], `practice-${part}.png`, { type: "image/png" });
          photographs.put("dark", undefined);
          for (const part of PLACES) photographs.put(part, file(part));
          setLampLines(practice.lampLines);
          const hot = photographs.file("hot");
          setHidden(hot === undefined ? undefined : { hot, truth: practice.truth });
          measure();
        }),
      );
    },
  };
}
