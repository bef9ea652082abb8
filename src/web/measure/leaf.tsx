/** The leaf in which photographs become numbers. */
import { createEffect, createSignal, on, onCleanup, Show as When } from "solid-js";
import { Choice } from "../figure/choice.tsx";
import type { LeafProps } from "../leaf-props.ts";
import { formatWithUncertainty } from "../../quantity/index.ts";
import { nanometres } from "../words/number.ts";
import { Text } from "../words/text.tsx";
import { AimPlate } from "./aim-plate.tsx";
import { Budget } from "./budget.tsx";
import { Diagnosis } from "./diagnosis.tsx";
import { Film } from "./film.tsx";
import { createHand } from "./hand.ts";
import { HandPanel } from "./hand-panel.tsx";
import { LampTable } from "./lamp-table.tsx";
import { MarksLayer } from "./marks-layer.tsx";
import { createMeasuring } from "./measuring.ts";
import { Numbers } from "./numbers.tsx";
import { dropped } from "./photographs.ts";
import { type Face, FACES, PhotoPlate } from "./photo-plate.tsx";
import type { EvidenceMark, PhotoReading } from "./protocol.ts";
import { Truth } from "./truth.tsx";
import { Wells } from "./wells.tsx";
import "./measure.css";

export default function Measure(props: LeafProps) {
  const setup = () => props.store.bench().setup;
  const measuring = createMeasuring(setup, props.startReader, (photo) => hand.documentOf(photo));
  const hand = createHand(measuring.read, setup, props.startReader, measuring.aim);
  const [face, setFace] = createSignal<Face>("photograph");
  const [evidence, setEvidence] = createSignal<EvidenceMark>();
  createEffect(() => {
    const refused = dropped.refused();
    if (refused !== undefined) measuring.setTroubles([refused]);
  });
  createEffect(
    on(measuring.answer, () => {
      if (face() !== "marks") setFace("photograph");
      setEvidence(undefined);
    }),
  );
  createEffect(() => {
    if (face() !== "marks" && measuring.aim() === undefined) return;
    // What is changed on the bench above is taken back there.
    const onKey = (event: KeyboardEvent): void => {
      if (!(event.target instanceof Element) || event.target.matches("input[type=text]")) return;
      if (event.target !== document.body && event.target.closest(".measure") === null) return;
      const key = event.key.toLowerCase();
      if (!(event.ctrlKey || event.metaKey) || (key !== "z" && key !== "y")) return;
      if (key === "y" || event.shiftKey) hand.redo();
      else hand.undo();
      event.preventDefault();
      event.stopPropagation();
    };
    document.addEventListener("keydown", onKey);
    onCleanup(() => document.removeEventListener("keydown", onKey));
  });
  const choose = (next: Face): void => {
    setFace(next);
    if (["forecast", "blink", "difference", "overlay"].includes(next)) measuring.compare();
  };
  const show = (mark: EvidenceMark | undefined): void => {
    if (mark !== undefined) setFace(mark.frame === "hot" ? "photograph" : mark.frame);
    setEvidence(mark);
  };
  return (
    <div class="measure" aria-busy={measuring.busy() !== undefined}>
      <p class="quiet">
        Drop pictures anywhere on the page, or choose them here: PNG, JPEG, TIFF or FITS. They stay in this
        browser. The setup above says what made them.
      </p>
      <Wells measuring={measuring} hand={hand} />
      <When when={measuring.aim()}>
        {(aim) => <AimPlate aim={aim()} hand={hand} theme={props.theme.theme()} />}
      </When>
      <When when={measuring.aim() === undefined && measuring.answer()}>
        {(reading) => (
          <>
            <div class="measure-row">
              <div class="measure-plate">
                <PhotoPlate
                  reading={reading()}
                  name={measuring.read()?.photo.name ?? ""}
                  face={face()}
                  comparison={measuring.comparison()}
                  evidence={evidence()}
                  handRow={face() === "marks" ? hand.reading()?.row : undefined}
                  over={
                    face() === "marks"
                      ? (px) => (
                          <MarksLayer
                            hand={hand}
                            onRegion={(area) => {
                              const photo = measuring.read()?.photo;
                              if (photo !== undefined) hand.setRegion(photo, area);
                            }}
                            px={px}
                            columns={reading().views.hot.columns}
                            rows={reading().views.hot.rows}
                          />
                        )
                      : undefined
                  }
                  theme={props.theme.theme()}
                />
                <Choice
                  label="What the plate shows"
                  options={facesOf(reading())}
                  value={face()}
                  onChoose={choose}
                />
                <p class="quiet" role="status">
                  {LEGENDS[face()]}
                </p>
              </div>
              <div class="measure-words">
                <When when={face() === "marks"}>
                  <HandPanel hand={hand} reading={reading()} measuring={measuring} />
                </When>
                <Numbers reading={reading()} />
                <Zero reading={reading()} />
                <Truth truth={measuring.truth()} reading={reading()} />
              </div>
            </div>
            <div class="measure-row even">
              <LampTable reading={reading()} />
              <Budget reading={reading()} />
            </div>
            <When
              when={measuring.diagnosis()}
              fallback={
                <button
                  type="button"
                  class="word strong"
                  disabled={measuring.busy() !== undefined}
                  onClick={() => measuring.diagnose()}
                >
                  {measuring.busy() ?? "is anything wrong with it?"}
                </button>
              }
            >
              {(diagnosis) => <Diagnosis diagnosis={diagnosis()} onShow={show} />}
            </When>
          </>
        )}
      </When>
      <Film store={props.store} measuring={measuring} startReader={props.startReader} />
    </div>
  );
}

const LEGENDS: Readonly<Record<Face, string>> = {
  photograph: "The photograph with the fitted curve over it.",
  cold: "The cold frame.",
  lamp: "The lamp frame with the lines that were recognised.",
  "left over":
    "Photograph minus fit, five standard deviations of the noise fully light: copper where there is more light than the fit says, blue where less.",
  marks: "Marks set by hand, and the curve through them.",
  forecast: "What the open setup foretells.",
  blink: "Photograph and forecast in turn.",
  difference:
    "Photograph minus forecast, small differences lifted: copper where there is more light, blue where less.",
  overlay: "Photograph blue, forecast copper: white where they agree. In the red room: in stripes.",
};

function facesOf({ views }: PhotoReading): readonly Face[] {
  return FACES.filter((face) => (face !== "cold" && face !== "lamp") || views[face] !== undefined);
}

function Zero(props: { readonly reading: PhotoReading }) {
  return (
    <When when={props.reading.zero}>
      {(zero) => (
        <p class="quiet zero-words">
          <Text
            of={`Zero of n − 1 between the lines: measured ${formatWithUncertainty(zero().measured, zero().uncertainty, "m", { as: "nm" })}, by the published strengths ${nanometres(zero().expected, 5)}, vacuum. It needs no density and no lens: the best check of any picture.`}
          />
        </p>
      )}
    </When>
  );
}
