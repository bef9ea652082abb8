/** Reading photographs in a worker of their own, so that the bench stays live meanwhile. */
import { type Accessor, createSignal, onCleanup } from "solid-js";
import type { SetupText } from "../state/setup-text.ts";
import { newestWins, type Post } from "../worker/client.ts";
import type { Outcome, PhotoReading, ReadRequest } from "../worker/protocol.ts";
import { asPhotoFile, createPhotographs, type Photographs } from "./photographs.ts";

export interface ReadingState {
  readonly photographs: Photographs;
  readonly lampLines: Accessor<string>;
  readonly setLampLines: (text: string) => void;
  readonly busy: Accessor<boolean>;
  readonly outcome: Accessor<Outcome<PhotoReading> | undefined>;
  readonly answer: Accessor<PhotoReading | undefined>;
  /** name of the photograph that was read */
  readonly name: Accessor<string>;
  /** why a file was not taken */
  readonly refused: Accessor<string | undefined>;
  readonly setRefused: (sentence: string | undefined) => void;
  readonly read: () => void;
}

export function createReading(setup: Accessor<SetupText>, start: () => Post): ReadingState {
  const photographs = createPhotographs();
  const client = newestWins<ReadRequest>(start);
  const [lampLines, setLampLines] = createSignal("Ar, Ne");
  const [busy, setBusy] = createSignal(false);
  const [outcome, setOutcome] = createSignal<Outcome<PhotoReading>>();
  const [name, setName] = createSignal("");
  const [refused, setRefused] = createSignal<string>();
  onCleanup(() => client.close());

  const read = async (): Promise<void> => {
    const [hot, cold, lamp] = [photographs.file("hot"), photographs.file("cold"), photographs.file("lamp")];
    if (hot === undefined) return;
    setBusy(true);
    setName(hot.name);
    const request: ReadRequest = {
      task: "read",
      setup: setup(),
      hot: await asPhotoFile(hot),
      cold: cold === undefined ? undefined : await asPhotoFile(cold),
      lamp: lamp === undefined ? undefined : await asPhotoFile(lamp),
      lampLines: lampLines(),
    };
    const buffers = [request.hot, request.cold, request.lamp].flatMap((file) =>
      file === undefined ? [] : [file.bytes],
    );
    client.ask(
      request,
      (done) => {
        setBusy(false);
        setOutcome(done);
      },
      buffers,
    );
  };

  return {
    photographs,
    lampLines,
    setLampLines,
    busy,
    outcome,
    answer: () => {
      const done = outcome();
      return done?.outcome === "done" ? done.answer : undefined;
    },
    name,
    refused,
    setRefused,
    read: () => {
      read().catch((fault: unknown) => {
        setBusy(false);
        setRefused(
          `The picture could not be opened: ${fault instanceof Error ? fault.message : String(fault)}.`,
        );
      });
    },
  };
}
