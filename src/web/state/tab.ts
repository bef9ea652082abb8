/**
 * This tab's own name. It survives a reload; a tab that was duplicated takes a new one, since its twin answers to the old.
 */
const KEY = "crossprism tab";
/** How long a twin may take to answer, ms. */
const PATIENCE = 60;

export async function tabName(session: Storage, channel: BroadcastChannel | undefined): Promise<string> {
  const before = session.getItem(KEY);
  let name = before ?? crypto.randomUUID();
  if (before !== null && channel !== undefined && (await twinAnswers(before, channel)))
    name = crypto.randomUUID();
  session.setItem(KEY, name);
  channel?.addEventListener("message", (event: MessageEvent<unknown>) => {
    if (isQuestion(event.data) && event.data.isThere === name) channel.postMessage({ here: name });
  });
  return name;
}

function twinAnswers(name: string, channel: BroadcastChannel): Promise<boolean> {
  return new Promise((resolve) => {
    const settle = (answer: boolean): void => {
      channel.removeEventListener("message", hear);
      clearTimeout(timer);
      resolve(answer);
    };
    const hear = (event: MessageEvent<unknown>): void => {
      if (
        typeof event.data === "object" &&
        event.data !== null &&
        "here" in event.data &&
        event.data.here === name
      )
        settle(true);
    };
    const timer = setTimeout(() => settle(false), PATIENCE);
    channel.addEventListener("message", hear);
    channel.postMessage({ isThere: name });
  });
}

function isQuestion(data: unknown): data is { readonly isThere: string } {
  return typeof data === "object" && data !== null && "isThere" in data && typeof data.isThere === "string";
}
