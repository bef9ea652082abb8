/** A recorded film read frame by frame: each frame's brightness goes through the same reading as a photograph. */
import type { Frame } from "../../picture/index.ts";
import { Refusal } from "../../quantity/refusal.ts";
import { readPicture } from "../../reading/index.ts";
import type { Setup } from "../../setup/index.ts";
import { lumaFrame } from "./luma.ts";
import { frameOf, openSetup } from "./open-frames.ts";
import type { FilmAnswer, FilmFrame, FilmRequest } from "./protocol.ts";

interface OpenFilm {
  readonly key: number;
  readonly samples: AsyncGenerator<FilmSample, void, unknown>;
  readonly duration: number;
  readonly every: number;
  seen: number;
}
type FilmSample = { readonly timestamp: number; toVideoFrame(): VideoFrame; close(): void };
let open: OpenFilm | undefined;

/** Reads the next few frames; the first request of a film opens it. */
export async function measureFilm(request: FilmRequest): Promise<FilmAnswer> {
  const setup = openSetup(request.setup);
  const cold = request.cold === undefined ? undefined : await frameOf(request.cold);
  if (open?.key !== request.key) {
    await open?.samples.return();
    open = await openFilm(request);
  }
  const film = open;
  const frames: FilmFrame[] = [];
  let size = { columns: 0, rows: 0 };
  let ended = false;
  while (frames.length < request.count) {
    const next = await film.samples.next();
    if (next.done === true) {
      ended = true;
      break;
    }
    const sample = next.value;
    const wanted = film.seen % film.every === 0;
    film.seen += 1;
    if (!wanted) {
      sample.close();
      continue;
    }
    const { timestamp } = sample;
    const picture = sample.toVideoFrame();
    sample.close();
    const frame = await lumaFrame(picture);
    size = { columns: frame.columns, rows: frame.rows };
    frames.push(readFrame(setup, frame, cold, timestamp));
  }
  if (ended) open = undefined;
  return { ...size, frames, duration: film.duration, ended };
}

async function openFilm({ film, key, every }: FilmRequest): Promise<OpenFilm> {
  const refuse = (received: string): Refusal =>
    new Refusal({
      code: "bad-film",
      field: film.name,
      received,
      expected: "a film that this browser can decode, such as WebM (VP8, VP9), MP4 (H.264) or Matroska",
    });
  const { ALL_FORMATS, BlobSource, Input, VideoSampleSink } = await import("mediabunny");
  const input = new Input({ formats: ALL_FORMATS, source: new BlobSource(film) });
  if (!(await input.canRead())) throw refuse("a file that is no film");
  const track = await input.getPrimaryVideoTrack();
  if (track === null) throw refuse("a file without pictures");
  if (!(await track.canDecode()))
    throw refuse(`pictures coded as ${(await track.getCodec()) ?? "something unknown"}`);
  return {
    key,
    samples: new VideoSampleSink(track).samples(),
    duration: await track.computeDuration(),
    every: Math.max(1, every),
    seen: 0,
  };
}

function readFrame(setup: Setup, hot: Frame, cold: Frame | undefined, time: number): FilmFrame {
  try {
    const reading = readPicture({ hot, ...(cold === undefined ? {} : { cold }), setup });
    return {
      time,
      columnGradient: reading.columnGradient,
      columnDensity: reading.columnDensity,
      tilt: reading.tilt,
      verdict: reading.verdict.code,
      refused: undefined,
    };
  } catch (fault) {
    if (!(fault instanceof Refusal)) throw fault;
    return {
      time,
      columnGradient: null,
      columnDensity: null,
      tilt: null,
      verdict: undefined,
      refused: fault.message,
    };
  }
}
