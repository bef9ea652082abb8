/** The files that were dropped: a place for each kind of frame, kept as files until they are read. */
import { createRoot, createSignal } from "solid-js";

export const PLACES = ["hot", "cold", "lamp", "dark"] as const;
export type PhotoPlace = (typeof PLACES)[number];

/** Largest picture taken, bytes; films are read piece by piece and may be larger. */
const LARGEST = 200e6;
const PICTURE = /\.(?:png|jpe?g|tiff?|fits?|fts)$/i;
const FILM = /\.(?:webm|mp4|m4v|mov|mkv|y4m)$/i;

export interface Photographs {
  /** the one file of a place; the first of several dark frames */
  readonly file: (place: PhotoPlace) => File | undefined;
  readonly darks: () => readonly File[];
  readonly film: () => File | undefined;
  /** Puts one file into a place, or empties it; dark frames gather. @returns why not, in a sentence */
  put(place: PhotoPlace, file: File | undefined): string | undefined;
  /** Several files at once: sorted into places by their names, a film into its own. */
  putAll(files: readonly File[]): string | undefined;
}

export function createPhotographs(): Photographs {
  const [files, setFiles] = createSignal<Readonly<Partial<Record<PhotoPlace, readonly File[]>>>>({});
  const [film, setFilm] = createSignal<File>();
  const put = (place: PhotoPlace, file: File | undefined): string | undefined => {
    const wrong = file === undefined ? undefined : refuse(file);
    if (wrong !== undefined) return wrong;
    setFiles((was) => {
      const { [place]: before = [], ...others } = was;
      if (file === undefined) return others;
      return { ...others, [place]: place === "dark" ? [...before, file] : [file] };
    });
    return undefined;
  };
  return {
    file: (place) => files()[place]?.[0],
    darks: () => files().dark ?? [],
    film,
    put,
    putAll(all) {
      let wrong: string | undefined;
      const films = all.filter(({ name }) => FILM.test(name));
      if (films[0] !== undefined) setFilm(films[0]);
      for (const { place, file } of sortIntoPlaces(all.filter((each) => !films.includes(each))))
        wrong ??= put(place, file);
      return wrong;
    },
  };
}

function refuse(file: File): string | undefined {
  if (!PICTURE.test(file.name)) return `${file.name}: expected a PNG, JPEG, TIFF or FITS picture.`;
  if (file.size > LARGEST)
    return `${file.name}: expected at most ${LARGEST / 1e6} MB, received ${Math.round(file.size / 1e6)} MB.`;
  return undefined;
}

/** The same file, chosen once or twice. */
export function samePhoto(a: File, b: File): boolean {
  return a === b || (a.name === b.name && a.size === b.size && a.lastModified === b.lastModified);
}

/** A name with "cold", "lamp" or "dark" in it says its place; any other is the hot picture. */
export function sortIntoPlaces<F extends { readonly name: string }>(
  files: readonly F[],
): { readonly place: PhotoPlace; readonly file: F }[] {
  return files.map((file) => ({
    file,
    place: (["cold", "lamp", "dark"] as const).find((word) => new RegExp(word, "i").test(file.name)) ?? "hot",
  }));
}

/** The page's own: files stay while their leaf is closed, and a drop anywhere on the page lands here. */
export const dropped = createRoot(() => {
  const photographs = createPhotographs();
  const [refused, setRefused] = createSignal<string>();
  return { photographs, refused, setRefused };
});
