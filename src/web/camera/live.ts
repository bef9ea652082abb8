/** From the running video to readings: one frame under way, the newest taken next, none waiting. */
import { type Accessor, createEffect, createSignal, on, onCleanup } from "solid-js";
import type { GlanceAnswer, GlanceRequest } from "../measure/protocol.ts";
import type { SetupText } from "../state/setup-text.ts";
import { newestWins, type Post } from "../worker/client.ts";
import { addReading, EMPTY_HISTORY, type History } from "./history.ts";

export interface Live {
  readonly answer: Accessor<GlanceAnswer | undefined>;
  readonly history: Accessor<History>;
  /** readings a second, over the last few */
  readonly rate: Accessor<number>;
  /** readings so far */
  readonly readings: Accessor<number>;
  /** frames that the camera gave while one was under way: passed over, never kept waiting */
  readonly passedOver: Accessor<number>;
  /** from taking the last frame to its reading, s */
  readonly lag: Accessor<number>;
  readonly trouble: Accessor<string | undefined>;
  readonly average: Accessor<number>;
  readonly setAverage: (frames: number) => void;
  takeCold(): void;
  forgetCold(): void;
  /** the averaged frame as a PNG, taken with the next frame */
  capture(): Promise<Uint8Array<ArrayBuffer>>;
  /** the video element, once it is there */
  readonly attach: (video: HTMLVideoElement) => void;
}

/** Readings that the rate is taken over. */
const RATE_OVER = 10;

export function createLive(
  setup: Accessor<SetupText>,
  stream: Accessor<MediaStream | undefined>,
  start: () => Post,
): Live {
  const client = newestWins<GlanceRequest>(start);
  const [answer, setAnswer] = createSignal<GlanceAnswer>();
  const [history, setHistory] = createSignal<History>(EMPTY_HISTORY);
  const [rate, setRate] = createSignal(0);
  const [readings, setReadings] = createSignal(0);
  const [passedOver, setPassedOver] = createSignal(0);
  const [lag, setLag] = createSignal(0);
  const [trouble, setTrouble] = createSignal<string>();
  const [average, setAverage] = createSignal(1);
  const [video, attach] = createSignal<HTMLVideoElement>();
  let underWay = false;
  let fresh = false;
  let cold: "take" | "forget" | undefined;
  let captures: {
    readonly resolve: (png: Uint8Array<ArrayBuffer>) => void;
    readonly reject: (fault: Error) => void;
  }[] = [];
  const times: number[] = [];

  const take = (element: HTMLVideoElement): void => {
    if (stream() === undefined) return;
    fresh = false;
    let frame: VideoFrame;
    try {
      frame = new VideoFrame(element);
    } catch {
      return; // the camera went away since the picture was announced: the next stream begins anew
    }
    underWay = true;
    const taken = performance.now();
    const asked = captures;
    captures = [];
    const request: GlanceRequest = {
      task: "glance",
      setup: setup(),
      frame,
      average: average(),
      ...(cold === undefined ? {} : { cold }),
      ...(asked.length === 0 ? {} : { capture: true }),
    };
    cold = undefined;
    client.ask(
      request,
      (done) => {
        underWay = false;
        if (done.outcome === "done") {
          const now = performance.now();
          setTrouble(undefined);
          setLag((now - taken) / 1000);
          setAnswer(done.answer);
          if (done.answer.glance !== undefined) setReadings((n) => n + 1);
          setHistory((was) => addReading(was, now / 1000, done.answer));
          times.push(now);
          if (times.length > RATE_OVER + 1) times.shift();
          const [first] = times;
          if (times.length > 2 && first !== undefined) setRate((1000 * (times.length - 1)) / (now - first));
          const { png } = done.answer;
          if (png !== undefined) for (const { resolve } of asked) resolve(png);
        } else {
          const sentence = done.outcome === "refused" ? done.sentences.join(" ") : done.sentence;
          setTrouble(sentence);
          for (const { reject } of asked) reject(new Error(sentence));
        }
        if (fresh) take(element);
      },
      [frame],
    );
  };

  createEffect(
    on([stream, video], ([live, element]) => {
      if (element === undefined) return;
      element.srcObject = live ?? null;
      if (live === undefined) return;
      void element.play().catch(() => undefined);
      let handle = 0;
      const each = (): void => {
        if (underWay) {
          if (fresh) setPassedOver((n) => n + 1);
          fresh = true;
        } else take(element);
        handle = element.requestVideoFrameCallback(each);
      };
      handle = element.requestVideoFrameCallback(each);
      onCleanup(() => element.cancelVideoFrameCallback(handle));
    }),
  );
  onCleanup(() => client.close());
  return {
    answer,
    history,
    rate,
    readings,
    passedOver,
    lag,
    trouble,
    average,
    setAverage,
    takeCold: () => {
      cold = "take";
    },
    forgetCold: () => {
      cold = "forget";
    },
    capture: () =>
      stream() === undefined
        ? Promise.reject(new Error("No camera is open."))
        : new Promise((resolve, reject) => captures.push({ resolve, reject })),
    attach,
  };
}
