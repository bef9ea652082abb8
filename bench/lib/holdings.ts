/** What a page and its worker hold when their rubbish has been collected, asked of Chromium's own protocol. */
import type { CDPSession, Page } from "playwright-core";

/** Heap and the memory of typed arrays and canvases' pixels together, bytes. */
export interface Holding {
  readonly page: number;
  readonly worker: number;
}

interface Usage {
  readonly usedSize: number;
  readonly backingStorageSize?: number;
}
const total = ({ usedSize, backingStorageSize = 0 }: Usage): number => usedSize + backingStorageSize;

/** @param page with at most one worker at a time; what a worker holds is 0 where there is none */
export async function holdings(page: Page): Promise<() => Promise<Holding>> {
  const session = await page.context().newCDPSession(page);
  let worker: string | undefined;
  session.on("Target.attachedToTarget", ({ sessionId, targetInfo }) => {
    if (targetInfo.type === "worker") worker = sessionId;
  });
  await session.send("Target.setAutoAttach", { autoAttach: true, waitForDebuggerOnStart: false });
  return async () => {
    await session.send("HeapProfiler.collectGarbage");
    const own = total(await session.send("Runtime.getHeapUsage"));
    if (worker === undefined) return { page: own, worker: 0 };
    await inWorker(session, worker, "HeapProfiler.collectGarbage");
    return { page: own, worker: total((await inWorker(session, worker, "Runtime.getHeapUsage")) as Usage) };
  };
}

let lastId = 0;
/** One question to a worker's own session. */
function inWorker(session: CDPSession, sessionId: string, method: string): Promise<unknown> {
  const id = ++lastId;
  return new Promise((resolve, reject) => {
    const listen = (event: { sessionId: string; message: string }): void => {
      const answer = JSON.parse(event.message) as {
        id?: number;
        result?: unknown;
        error?: { message: string };
      };
      if (event.sessionId !== sessionId || answer.id !== id) return;
      session.off("Target.receivedMessageFromTarget", listen);
      if (answer.error === undefined) resolve(answer.result);
      else reject(new Error(answer.error.message));
    };
    session.on("Target.receivedMessageFromTarget", listen);
    void session
      .send("Target.sendMessageToTarget", { sessionId, message: JSON.stringify({ id, method }) })
      .catch(reject);
  });
}
