/** Keeps the screen from going dark during the run, where the browser can. */
import { createSignal, onCleanup, Show as When } from "solid-js";

export function WakeLock() {
  const able = "wakeLock" in navigator;
  const [wanted, setWanted] = createSignal(false);
  const [said, setSaid] = createSignal("");
  let lock: WakeLockSentinel | undefined;
  const release = (): void => {
    void lock?.release();
    lock = undefined;
  };
  const hold = async (): Promise<void> => {
    if (!wanted() || document.visibilityState !== "visible") return;
    try {
      lock = await navigator.wakeLock.request("screen");
      setSaid("The screen stays on.");
    } catch {
      setWanted(false);
      setSaid("This device does not allow it now, perhaps to save its battery.");
    }
  };
  // A browser lets go whenever the page is hidden.
  const seen = (): void => void hold();
  document.addEventListener("visibilitychange", seen);
  onCleanup(() => {
    document.removeEventListener("visibilitychange", seen);
    release();
  });
  return (
    <When
      when={able}
      fallback={<p class="quiet">This browser cannot keep the screen on: set the device so that it does.</p>}
    >
      <p class="wake">
        <label class="tick">
          <input
            type="checkbox"
            checked={wanted()}
            onChange={(event) => {
              setWanted(event.currentTarget.checked);
              if (event.currentTarget.checked) void hold();
              else {
                release();
                setSaid("");
              }
            }}
          />
          <span>keep the screen on</span>
        </label>
        <span class="quiet" role="status">
          {said()}
        </span>
      </p>
    </When>
  );
}
