/** The brightness of a film's or camera's frame as it is stored, no colours in between. */
import { type Frame, spreadTable } from "../../picture/index.ts";
import { frameOfImage } from "./image-frame.ts";

/** Layouts whose first plane is brightness, one byte a pixel. */
const PLANAR = new Set(["I420", "I420A", "I422", "I444", "NV12"]);

/**
 * Films store brightness from 16 to 235 unless they say otherwise; that is spread over 0 … 255, as a grey picture has it.
 * Other layouts go through a canvas. Closes the picture.
 */
export async function lumaFrame(picture: VideoFrame): Promise<Frame> {
  const planes = await planesOf(picture);
  if (planes === undefined) return frameOfImage(picture);
  picture.close();
  return greyOfPlanes(planes);
}

/**
 * A camera's frame: brightness alone where it is grey all over, which spares the canvas and its colours (a colour camera's
 * blue light would all but vanish in its brightness); else the three colours. Closes the picture.
 */
export async function liveFrame(picture: VideoFrame | ImageBitmap): Promise<Frame> {
  const planes = "format" in picture ? await planesOf(picture) : undefined;
  if (planes === undefined || !isGrey(planes)) return frameOfImage(picture);
  picture.close();
  return greyOfPlanes(planes);
}

interface Planes {
  readonly columns: number;
  readonly rows: number;
  readonly bytes: Uint8Array;
  readonly brightness: PlaneLayout;
  /** where the planes of colour begin; they run to the end */
  readonly colours: number;
  readonly fullRange: boolean;
}

async function planesOf(picture: VideoFrame): Promise<Planes | undefined> {
  if (picture.format === null || !PLANAR.has(picture.format)) return undefined;
  const { codedWidth, codedHeight, colorSpace } = picture;
  const rect = picture.visibleRect ?? { x: 0, y: 0, width: codedWidth, height: codedHeight };
  const bytes = new Uint8Array(picture.allocationSize({ rect }));
  const [brightness, colour] = await picture.copyTo(bytes, { rect });
  if (brightness === undefined) return undefined;
  return {
    columns: rect.width,
    rows: rect.height,
    bytes,
    brightness,
    colours: colour?.offset ?? bytes.length,
    fullRange: colorSpace.fullRange === true,
  };
}

/** Colours stored about 128 as no colour. */
function isGrey({ bytes, colours }: Planes): boolean {
  for (let i = colours; i < bytes.length; i++) if (bytes[i] !== 128) return false;
  return true;
}

function greyOfPlanes({ columns, rows, bytes, brightness: { offset, stride }, fullRange }: Planes): Frame {
  const samples = new Uint8Array(columns * rows);
  const spread = spreadTable(fullRange);
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) samples[r * columns + c] = spread[bytes[offset + r * stride + c]];
  return { columns, rows, channels: 1, depth: 8, samples };
}
