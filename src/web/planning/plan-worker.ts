/** The worker that plans: one question in, progress out, one answer out. */
import {
  choose,
  compareElements,
  heatPlan,
  runSheet,
  runSheetHtml,
  stopNow,
  toleranceAnswer,
  toleranceJob,
  unitCount,
  unitRunner,
} from "../../plan/index.ts";
import { refusalSentence, Refusal } from "../../quantity/index.ts";
import {
  examineSetup,
  fingerprint,
  forecast,
  type JsonObject,
  type Setup,
  vapourStage,
} from "../../setup/index.ts";
import { COARSE_GRID } from "../../vessel/index.ts";
import type { Answers, Ask, Progress, Told, ToleranceAsk } from "./protocol.ts";

interface Scope {
  postMessage(message: Told): void;
  onmessage: ((event: MessageEvent<Ask>) => void) | null;
}
const scope = self as unknown as Scope;

scope.onmessage = ({ data }) => {
  const { setup, faults } = examineSetup(data.setup as JsonObject);
  if (setup === undefined) {
    scope.postMessage({ sentences: faults.map((fault) => refusalSentence(fault)) });
    return;
  }
  try {
    scope.postMessage({ answer: answerTo(data, setup) });
  } catch (fault) {
    const said = fault instanceof Error ? fault.message : String(fault);
    scope.postMessage({
      sentences: [fault instanceof Refusal ? said : `The program itself failed: ${said}.`],
    });
  }
};

function answerTo(ask: Ask, setup: Setup): Answers[Ask["task"]] {
  switch (ask.task) {
    case "choose":
      return choose(setup, ask.wish, {}, (done) => tell({ done, of: ask.wish.forecasts }));
    case "elements":
      return compareElements(setup, {}, (done, of) => tell({ done, of }));
    case "tolerance":
      return tolerance(ask, setup);
    case "sheet": {
      const sheet = runSheet(forecast(setup));
      return { sheet, html: runSheetHtml(sheet) };
    }
    case "heat": {
      const { field } = vapourStage(setup, { grid: COARSE_GRID });
      return {
        plan: heatPlan(setup),
        setup: fingerprint(setup),
        stopNow: stopNow(setup, field.pressure),
        tooHot: setup.vessel.wall.bottom + 20,
      };
    }
  }
}

function tolerance({ draws, seed }: ToleranceAsk, setup: Setup): Answers["tolerance"] {
  const job = toleranceJob(setup, { inputs: [], correlations: [], draws, seed });
  const run = unitRunner(job);
  const of = unitCount(job);
  const rows = Array.from({ length: of }, (_, i) => {
    tell({ done: i, of });
    return run(i);
  });
  return { answer: toleranceAnswer(job, rows), inputs: job.inputs };
}

let told = 0;
function tell(progress: Progress): void {
  const now = performance.now();
  if (now - told < 100) return;
  told = now;
  scope.postMessage({ progress });
}
