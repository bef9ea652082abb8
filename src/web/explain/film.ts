/** A short film of a view: its stills one after another, encoded by the browser. Fetched when one is first asked for. */
import {
  BufferTarget,
  CanvasSource,
  getFirstEncodableVideoCodec,
  Mp4OutputFormat,
  Output,
  Quality,
  type VideoCodec,
  WebMOutputFormat,
} from "mediabunny";
import type { Moving } from "./motion.ts";
import type { Still } from "./still.ts";

const FRAMES = 60;
const PER_SECOND = 15;
/** The last still stands for so many frames more. */
const REST = 15;
/** Pixels of the film for each of the page. */
const SHARP = 1.5;
/** The open ones first; the last is for browsers that encode nothing else. */
const CODECS: readonly VideoCodec[] = ["vp9", "av1", "vp8", "avc"];

export interface Film {
  readonly content: Blob;
  /** ".webm" or ".mp4" */
  readonly ending: string;
}

/**
 * @param still the view as it stands now
 * @param told is told the share 0…1 that is done
 * @returns undefined where the browser encodes no film
 */
export async function filmOf(
  moving: Moving,
  still: () => Still,
  told: (share: number) => void,
): Promise<Film | undefined> {
  moving.show(0);
  const first = still();
  const canvas = document.createElement("canvas");
  canvas.width = 2 * Math.ceil((first.width * SHARP) / 2);
  canvas.height = 2 * Math.ceil((first.height * SHARP) / 2);
  const codec = await getFirstEncodableVideoCodec([...CODECS], {
    width: canvas.width,
    height: canvas.height,
  });
  const context = canvas.getContext("2d");
  if (codec === null || context === null) return undefined;
  const target = new BufferTarget();
  const format = codec === "avc" ? new Mp4OutputFormat() : new WebMOutputFormat();
  const output = new Output({ format, target });
  const source = new CanvasSource(canvas, { codec, quality: new Quality("high") });
  output.addVideoTrack(source, { frameRate: PER_SECOND });
  await output.start();
  try {
    for (let i = 0; i < FRAMES + REST; i++) {
      if (i < FRAMES) {
        moving.show(i / (FRAMES - 1));
        await paint(context, still());
      }
      await source.add(i / PER_SECOND, 1 / PER_SECOND);
      told((i + 1) / (FRAMES + REST));
    }
    await output.finalize();
  } catch (fault) {
    await output.cancel();
    throw fault;
  }
  return {
    content: new Blob([target.buffer ?? new ArrayBuffer(0)], { type: format.mimeType }),
    ending: format.fileExtension,
  };
}

async function paint(context: CanvasRenderingContext2D, { svg }: Still): Promise<void> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  context.drawImage(image, 0, 0, context.canvas.width, context.canvas.height);
}
