/** The page's way to the notebook, where the local server was started with one. */
import {
  type Entry,
  NOTEBOOK_API,
  type NotebookNo,
  type NotebookPage,
  type PictureBody,
  type PictureRole,
} from "../../notebook/contract.ts";

/** A picture that the notebook holds. */
export interface KeptPicture {
  readonly name: string;
  readonly role: PictureRole;
  readonly at: string;
  readonly sha256: string;
  readonly media: string;
}

const api = (rest: string): string => new URL(`.${NOTEBOOK_API}${rest}`, location.origin).href;

/** @throws Error with one sentence where no notebook is open or the server said no */
async function answered(response: Response): Promise<Response> {
  if (response.ok) return response;
  if (response.status === 404 && response.url.endsWith(NOTEBOOK_API)) throw new Error("No notebook is open.");
  const no = (await response.json().catch(() => undefined)) as NotebookNo | undefined;
  throw new Error(no?.message ?? `The notebook did not answer (${response.status}).`);
}

/** The newest pictures, up to 200. */
export async function listPictures(): Promise<readonly KeptPicture[]> {
  const response = await answered(await fetch(api("/entries?kind=picture&limit=200")));
  const { entries } = (await response.json()) as NotebookPage;
  return entries.flatMap((entry) => {
    const [file] = entry.files;
    const { role } = entry.body as unknown as PictureBody;
    return file === undefined
      ? []
      : [{ name: file.name, role, at: entry.at, sha256: file.sha256, media: file.media }];
  });
}

export async function fetchPicture(picture: KeptPicture): Promise<File> {
  const response = await answered(await fetch(api(`/files/${picture.sha256}`)));
  return new File([await response.arrayBuffer()], picture.name, { type: picture.media });
}

/** Adds a picture. @returns the number of its entry */
export async function keepPicture(
  bytes: Uint8Array<ArrayBuffer>,
  name: string,
  role: PictureRole,
  text: string,
): Promise<number> {
  const about = new URLSearchParams({ role, name, text });
  const response = await answered(
    await fetch(api(`/pictures?${about}`), {
      method: "POST",
      headers: { "content-type": "application/octet-stream" },
      body: bytes,
    }),
  );
  return ((await response.json()) as Entry).id;
}
