import { Refusal } from "../../quantity/index.ts";
import { buffersOf } from "../worker/transfer.ts";
import { factsOf, pulseOf } from "./answers.ts";
import type { Question, Reply } from "./protocol.ts";

const scope = self as unknown as {
  postMessage(message: Reply, transfer: Transferable[]): void;
  onmessage: ((event: MessageEvent<Question>) => void) | null;
};

scope.onmessage = (event) => {
  const question = event.data;
  const { id } = question;
  try {
    const reply: Reply =
      question.task === "facts"
        ? { id, facts: factsOf(question.setup) }
        : { id, pulse: pulseOf(question.setup, question.carrier, question.duration) };
    scope.postMessage(reply, buffersOf(reply));
  } catch (fault) {
    const said = fault instanceof Error ? fault.message : String(fault);
    const sentence = fault instanceof Refusal ? said : `The program itself failed: ${said}.`;
    scope.postMessage({ id, sentence }, []);
  }
};
