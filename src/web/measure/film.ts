/** A recorded film read frame by frame: each frame's brightness goes through the same reading as a photograph. */
import { type Frame, openY4m } from "../../picture/index.ts";
import { Refusal } from "../../quantity/refusal.ts";
import { parseMarks, readPicture, type ReadingInput } from "../../reading/index.ts";
import { lumaFrame } from "./luma.ts";
import { openOthers, uprighted } from "./open-frames.ts";
import type { FilmAnswer, FilmFrame, FilmRequest } from "./protocol.ts";

/** One picture of a film: looked at, or passed over. */
interface FilmPicture {
  /** s */
  readonly time: number;
  frame(): Promise<Frame>;
  pass(): void;
}
interface Film {
  readonly pictures: AsyncGenerator<FilmPicture, void, unknown>;
  /** s */
  readonly duration: number;
}
interface OpenFilm extends Film {
  readonly key: number;
  readonly every: number;
  readonly others: Omit<ReadingInput, "hot">;
  seen: number;
}
let open: OpenFilm | undefined;

/** Reads the next few frames; the first request of a film opens it. */
export async function measureFilm(request: FilmRequest): Promise<FilmAnswer> {
  if (open?.key !== request.key) {
    await open?.pictures.return();
    open = undefined;
    const { film, key, every, marks } = request;
    const others = {
      ...(await openOthers(request)),
      ...(marks === undefined ? {} : { marks: parseMarks(marks) }),
    };
    open = { ...(await openFilm(film)), key, every: Math.max(1, every), others, seen: 0 };
  }
  const film = open;
  const frames: FilmFrame[] = [];
  let size = { columns: 0, rows: 0 };
  let ended = false;
  while (frames.length < request.count) {
    const next = await film.pictures.next();
    if (next.done === true) {
      ended = true;
      break;
    }
    const picture = next.value;
    const wanted = film.seen % film.every === 0;
    film.seen += 1;
    if (!wanted) {
      picture.pass();
      continue;
    }
    const hot = await picture.frame();
    size = { columns: hot.columns, rows: hot.rows };
    frames.push(readFrame({ ...film.others, hot }, picture.time));
  }
  if (ended) open = undefined;
  return { ...size, frames, duration: film.duration, ended };
}

function openFilm(film: File): Promise<Film> {
  return /\.y4m$/i.test(film.name) ? openUncompressed(film) : openCoded(film);
}

/** Read as it is stored: the same samples in every browser and on the command line. */
async function openUncompressed(film: File): Promise<Film> {
  const opened = await openY4m(
    async (from, to) => new Uint8Array(await film.slice(from, to).arrayBuffer()),
    film.name,
  );
  const { columns, rows, perSecond } = opened;
  const step = 1 / (perSecond ?? 1);
  return {
    pictures: (async function* () {
      let count = 0;
      for await (const frame of opened.frames())
        yield { time: step * count++, frame: () => Promise.resolve(frame), pass: () => undefined };
    })(),
    // Frames hold one to three bytes a pixel; films of cameras one and a half. Only the bar of progress asks.
    duration: (film.size / (1.5 * columns * rows)) * step,
  };
}

/** Unpacked by the browser. */
async function openCoded(film: File): Promise<Film> {
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
  const samples = new VideoSampleSink(track).samples();
  return {
    pictures: (async function* () {
      for await (const sample of samples)
        yield {
          time: sample.timestamp,
          async frame() {
            const picture = sample.toVideoFrame();
            sample.close();
            return lumaFrame(picture);
          },
          pass: () => sample.close(),
        };
    })(),
    duration: await track.computeDuration(),
  };
}

function readFrame(input: ReadingInput, time: number): FilmFrame {
  try {
    const reading = readPicture(uprighted(input));
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
