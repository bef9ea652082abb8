/** The photographs that were dropped: three places, kept as files until they are read. */
import { createSignal } from "solid-js";
import type { PhotoFile } from "../worker/protocol.ts";

export const PLACES = ["hot", "cold", "lamp"] as const;
export type PhotoPlace = (typeof PLACES)[number];

/** Largest file taken, bytes. */
const LARGEST = 200e6;

export interface Photographs {
  readonly file: (place: PhotoPlace) => File | undefined;
  put(place: PhotoPlace, file: File | undefined): string | undefined;
  /** Several files at once: sorted into places by their names. */
  putAll(files: readonly File[]): string | undefined;
}

export function createPhotographs(): Photographs {
  const [files, setFiles] = createSignal<Readonly<Partial<Record<PhotoPlace, File>>>>({});
  const put = (place: PhotoPlace, file: File | undefined): string | undefined => {
    const wrong = file === undefined ? undefined : refuse(file);
    if (wrong !== undefined) return wrong;
    setFiles((was) => {
      const { [place]: _, ...others } = was;
      return file === undefined ? others : { ...others, [place]: file };
    });
    return undefined;
  };
  return {
    file: (place) => files()[place],
    put,
    putAll(all) {
      let wrong: string | undefined;
      for (const { place, file } of sortIntoPlaces(all)) {
        wrong ??= put(place, file);
      }
      return wrong;
    },
  };
}

function refuse(file: File): string | undefined {
  if (!/\.(?:png|jpe?g)$/i.test(file.name)) return `${file.name}: expected a PNG or JPEG picture.`;
  if (file.size > LARGEST)
    return `${file.name}: expected at most ${LARGEST / 1e6} MB, received ${Math.round(file.size / 1e6)} MB.`;
  return undefined;
}

/** A name with "cold" or "lamp" in it says its place; a single file without either is the hot picture. */
export function sortIntoPlaces<F extends { readonly name: string }>(
  files: readonly F[],
): { readonly place: PhotoPlace; readonly file: F }[] {
  return files.slice(0, PLACES.length).map((file) => ({ file, place: placeByName(file.name) }));
}

function placeByName(name: string): PhotoPlace {
  if (/cold/i.test(name)) return "cold";
  return /lamp/i.test(name) ? "lamp" : "hot";
}

export async function asPhotoFile(file: File): Promise<PhotoFile> {
  return { name: file.name, bytes: await file.arrayBuffer() };
}
