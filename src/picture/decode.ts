/** Picture files as frames, whatever their kind: found by their first bytes, their size read before anything is unpacked. */
import { Refusal } from "../quantity/refusal.ts";
import type { Frame } from "./api.ts";
import { jpegSize } from "./jpeg-size.ts";
import { decodePng, LARGEST_PIXELS } from "./png.ts";
import { uprighted } from "./turn.ts";

const SENTENCE = "a PNG, TIFF, JPEG or FITS picture";

/**
 * A picture file as a frame that stands upright, with exposure time, sensitivity and aperture where the file states them.
 *
 * PNG and TIFF of 8 and 16 bits and FITS keep their last bit; JPEG is unpacked by the program itself. Turned by the file's own note of how the
 * camera was held (Exif orientation).
 * @param name what to call the file in a refusal
 * @throws Refusal where the bytes are no such picture, are cut short or damaged, or announce more than 100 million pixels
 */
export async function decodePicture(bytes: Uint8Array, name: string): Promise<Frame> {
  const kind = kindOf(bytes);
  if (kind === "png") return decodePng(bytes, name);
  if (kind === "fits") return (await import("./fits.ts")).decodeFits(bytes, name);
  if (kind === "tiff") {
    const frame = (await import("./tiff.ts")).decodeTiff(bytes, name);
    return withExif(frame, bytes);
  }
  if (kind === "jpeg") {
    const size = jpegSize(bytes);
    if (size === null) throw refused(name, "a JPEG file cut short or damaged", "a whole JPEG picture");
    if (size.columns * size.rows > LARGEST_PIXELS)
      throw refused(
        name,
        `a picture of ${size.columns} × ${size.rows} pixels`,
        "a picture of at most 100 million pixels",
      );
    const { decodeJpeg, OtherJpeg } = await import("./jpeg.ts");
    let frame: Frame;
    try {
      frame = decodeJpeg(bytes);
    } catch (error) {
      throw error instanceof OtherJpeg
        ? refused(
            name,
            `a JPEG file with ${error.message}`,
            "a JPEG picture of 8 bits, grey or in three colours",
          )
        : refused(name, "a JPEG file cut short or damaged", "a whole JPEG picture");
    }
    return withExif(frame, bytes);
  }
  throw refused(name, bytes.length === 0 ? "an empty file" : "a file that is no picture of these", SENTENCE);
}

type Kind = "png" | "jpeg" | "tiff" | "fits";

function kindOf(bytes: Uint8Array): Kind | null {
  const begins = (...first: number[]): boolean => first.every((b, i) => bytes[i] === b);
  if (begins(0x89, 0x50, 0x4e, 0x47)) return "png";
  if (begins(0xff, 0xd8)) return "jpeg";
  if (begins(0x49, 0x49, 42, 0) || begins(0x4d, 0x4d, 0, 42)) return "tiff";
  if (String.fromCharCode(...bytes.subarray(0, 9)) === "SIMPLE  =") return "fits";
  return null;
}

/** Exposure and the way the camera was held, where the file says so; a broken note changes nothing. */
async function withExif(frame: Frame, bytes: Uint8Array): Promise<Frame> {
  try {
    const { parse } = (await import("exifr")).default;
    const tags = (await parse(bytes, {
      pick: ["ExposureTime", "ISO", "FNumber", "Orientation"],
      translateValues: false,
    })) as Readonly<Record<string, unknown>> | undefined;
    const {
      ExposureTime: exposure,
      ISO: sensitivity,
      FNumber: aperture,
      Orientation: orientation,
    } = tags ?? {};
    const upright = typeof orientation === "number" ? uprighted(frame, orientation) : frame;
    return { ...upright, ...positive({ exposure, sensitivity, aperture }) };
  } catch {
    return frame;
  }
}

/** Those of some numbers that say something. */
function positive(all: Readonly<Record<string, unknown>>): Readonly<Record<string, number>> {
  return Object.fromEntries(
    Object.entries(all).filter(
      (each): each is [string, number] => typeof each[1] === "number" && each[1] > 0,
    ),
  );
}

function refused(name: string, received: string, expected: string): Refusal {
  return new Refusal({ code: "not-a-picture", field: name, received, expected });
}
