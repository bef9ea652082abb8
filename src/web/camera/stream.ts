/** The connected camera: opening it, locking what it would change by itself, and noticing that it was unplugged and is back. */
import { type Accessor, createSignal, onCleanup } from "solid-js";

export type CameraState = "closed" | "asking" | "live" | "unplugged" | "refused";

/** What a camera would otherwise change while one measures. */
const AUTOMATICS = ["exposureMode", "whiteBalanceMode", "focusMode"] as const;
type Automatic = (typeof AUTOMATICS)[number];

export interface Lock {
  readonly name: string;
  readonly locked: boolean;
  /** what to do about it; undefined where nothing is to be done */
  readonly warning: string | undefined;
}

const WORDS: Readonly<Record<Automatic, { readonly name: string; readonly harm: string }>> = {
  exposureMode: {
    name: "exposure",
    harm: "frames of one run may differ in brightness; hold the scene's brightness still, or use the camera's own program to fix it",
  },
  whiteBalanceMode: {
    name: "white balance",
    harm: "the colours' shares may drift; read a grey camera or one colour only",
  },
  focusMode: { name: "focus", harm: "the picture may jump in size and sharpness; fix it at the lens" },
};

export interface Camera {
  readonly state: Accessor<CameraState>;
  readonly said: Accessor<string>;
  readonly locks: Accessor<readonly Lock[]>;
  readonly devices: Accessor<readonly MediaDeviceInfo[]>;
  readonly deviceId: Accessor<string | undefined>;
  readonly stream: Accessor<MediaStream | undefined>;
  open(deviceId?: string): void;
  close(): void;
}

/** What browsers know of cameras beyond the standard's first edition. */
type Modes = Partial<Record<Automatic, string | readonly string[]>>;

export function createCamera(): Camera {
  const [state, setState] = createSignal<CameraState>("closed");
  const [said, setSaid] = createSignal("");
  const [locks, setLocks] = createSignal<readonly Lock[]>([]);
  const [devices, setDevices] = createSignal<readonly MediaDeviceInfo[]>([]);
  const [deviceId, setDeviceId] = createSignal<string>();
  const [stream, setStream] = createSignal<MediaStream>();
  // Older browsers and unsafe addresses have none of it.
  const media = navigator.mediaDevices as MediaDevices | undefined;

  const drop = (): void => {
    for (const track of stream()?.getTracks() ?? []) track.stop();
    setStream(undefined);
  };
  const unplugged = (): void => {
    drop();
    setState("unplugged");
    setSaid("The camera is gone. It is taken up again as soon as it is back.");
  };
  const open = async (wanted: string | undefined): Promise<void> => {
    if (media === undefined) {
      setState("refused");
      setSaid("This browser gives no camera to this address; open the page from 127.0.0.1 or localhost.");
      return;
    }
    const before = state();
    setState(before === "unplugged" ? "unplugged" : "asking");
    try {
      const opened = await media.getUserMedia({
        audio: false,
        video: {
          width: { ideal: 1280 },
          height: { ideal: 960 },
          frameRate: { ideal: 30 },
          ...(wanted === undefined ? {} : { deviceId: { ideal: wanted } }),
        },
      });
      drop();
      const [track] = opened.getVideoTracks();
      if (track === undefined) throw new Error("it has no picture");
      track.addEventListener("ended", unplugged);
      setStream(opened);
      setDeviceId(track.getSettings().deviceId);
      setState("live");
      setSaid("");
      setLocks(await lockAll(track));
      setDevices((await media.enumerateDevices()).filter(({ kind }) => kind === "videoinput"));
    } catch (fault) {
      if (before === "unplugged") return; // still not back
      setState("refused");
      setSaid(sentenceOf(fault));
    }
  };
  const changed = (): void => {
    if (state() === "unplugged") void open(deviceId());
  };
  media?.addEventListener("devicechange", changed);
  onCleanup(() => {
    media?.removeEventListener("devicechange", changed);
    drop();
  });
  return {
    state,
    said,
    locks,
    devices,
    deviceId,
    stream,
    open: (wanted) => void open(wanted),
    close() {
      drop();
      setState("closed");
      setSaid("");
      setLocks([]);
    },
  };
}

/** Sets exposure, white balance and focus to manual where the camera lets one, and says where not. */
async function lockAll(track: MediaStreamTrack): Promise<readonly Lock[]> {
  // Not every browser has getCapabilities.
  const can = ((track.getCapabilities as (() => unknown) | undefined)?.call(track) ?? {}) as Modes;
  const locks: Lock[] = [];
  for (const automatic of AUTOMATICS) {
    const { name, harm } = WORDS[automatic];
    const modes = can[automatic];
    let locked = false;
    if (Array.isArray(modes) && modes.includes("manual")) {
      await track.applyConstraints({ advanced: [{ [automatic]: "manual" }] }).catch(() => undefined);
      locked = (track.getSettings() as Modes)[automatic] === "manual";
    }
    locks.push({ name, locked, warning: locked ? undefined : `${name} cannot be locked: ${harm}` });
  }
  return locks;
}

function sentenceOf(fault: unknown): string {
  const name = fault instanceof DOMException ? fault.name : "";
  if (name === "NotAllowedError") return "The browser was not allowed to use the camera.";
  if (name === "NotFoundError") return "No camera is connected.";
  if (name === "NotReadableError") return "The camera is held by another program.";
  return `The camera could not be opened: ${fault instanceof Error ? fault.message : String(fault)}.`;
}
