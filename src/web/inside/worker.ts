import { Refusal } from "../../quantity/index.ts";
import { buffersOf } from "../worker/transfer.ts";
import { insideOf } from "./cuts.ts";
import type { Question, Reply } from "./protocol.ts";

const scope = self as unknown as {
  postMessage(message: Reply, transfer: Transferable[]): void;
  onmessage: ((event: MessageEvent<Question>) => void) | null;
};

scope.onmessage = (event) => {
  const { id, setup } = event.data;
  try {
    const inside = insideOf(setup);
    scope.postMessage({ id, inside }, buffersOf(inside));
  } catch (fault) {
    const said = fault instanceof Error ? fault.message : String(fault);
    scope.postMessage(
      { id, sentence: fault instanceof Refusal ? said : `The program itself failed: ${said}.` },
      [],
    );
  }
};
