/** What blurs the picture across and up, and the widest slits that grant a wish. */
import { createMemo, createSignal, createUniqueId, For, Show as When } from "solid-js";
import { type Blur, sharpness, slitsFor, spectralMap } from "../../path/index.ts";
import { parseQuantity, Refusal } from "../../quantity/index.ts";
import type { BenchStore } from "../state/store.ts";
import { nanometres, quantity, significant } from "../words/number.ts";
import type { Sight } from "../worker/protocol.ts";

export function Blurs(props: { readonly sight: Sight; readonly store: BenchStore }) {
  const path = () => props.sight.setup.path;
  const pixel = () => props.sight.setup.camera.pixel;
  const map = createMemo(() => spectralMap(path()));
  const sharp = createMemo(() => sharpness(path(), map(), pixel(), path().centreWavelength));
  const across = (metres: number): string => nanometres(metres / sharp().linearDispersion, 4);
  const up = (metres: number): string =>
    `${significant((metres / sharp().height.total) * sharp().deflection * 1e3, 2)}\u202fmrad`;

  return (
    <section class="blurs" aria-label="What blurs the picture">
      <h3>What blurs the picture, in the middle of it</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">from</th>
            <th scope="col">across</th>
            <th scope="col">as wavelength</th>
            <th scope="col">up</th>
            <th scope="col">as bend</th>
          </tr>
        </thead>
        <tbody>
          <For each={rowsOf(sharp().width, sharp().height)}>
            {(row) => (
              <tr>
                <th scope="row">{row.name}</th>
                <td>
                  <Bar share={row.width / sharp().width.total} />
                  {quantity(row.width, "m", "um")}
                </td>
                <td>{across(row.width)}</td>
                <td>
                  <Bar share={row.height / sharp().height.total} />
                  {quantity(row.height, "m", "um")}
                </td>
                <td>{up(row.height)}</td>
              </tr>
            )}
          </For>
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">together, full width at half height</th>
            <td>{quantity(sharp().width.total, "m", "um")}</td>
            <td>{across(sharp().width.total)}</td>
            <td>{quantity(sharp().height.total, "m", "um")}</td>
            <td>{up(sharp().height.total)}</td>
          </tr>
        </tfoot>
      </table>
      <p class="quiet">
        {`Told apart in the middle: wavelengths ${nanometres(sharp().wavelength, 4)} apart (resolving power ${significant(sharp().resolvingPower, 3)}) and bends of ${significant(sharp().deflection * 1e3, 2)}\u202fmrad. Slit and pixel are boxes, defocus a normal curve, diffraction the normal curve of the same half width; they are joined by their variances.`}
      </p>
      <Wish
        grant={(wavelength, deflection) =>
          slitsFor(path(), map(), pixel(), path().centreWavelength, {
            ...(wavelength === undefined ? {} : { wavelength }),
            ...(deflection === undefined ? {} : { deflection }),
          })
        }
        store={props.store}
      />
    </section>
  );
}

function rowsOf(
  width: Blur,
  height: Blur,
): readonly { readonly name: string; readonly width: number; readonly height: number }[] {
  return [
    { name: "slit's image", width: width.slit, height: height.slit },
    { name: "diffraction, to the first dark", width: width.diffraction, height: height.diffraction },
    { name: "defocus, standard deviation", width: width.defocus, height: height.defocus },
    { name: "pixel", width: width.pixel, height: height.pixel },
  ];
}

function Bar(props: { readonly share: number }) {
  return (
    <svg class="share" width="60" height="8" aria-hidden="true">
      <rect width={Math.min(60, 60 * props.share)} height="8" />
    </svg>
  );
}

/** "Show 0.1 nm": the widest slits that do, each one press away. */
function Wish(props: {
  readonly grant: (
    wavelength: number | undefined,
    deflection: number | undefined,
  ) => { plumbSlit?: number; levelSlit?: number };
  readonly store: BenchStore;
}) {
  const ids = [createUniqueId(), createUniqueId()] as const;
  const [wavelength, setWavelength] = createSignal("0.1 nm");
  const [deflection, setDeflection] = createSignal("0.1 mrad");
  const answer = createMemo((): { readonly slits: readonly Slit[]; readonly faults: readonly string[] } => {
    const faults: string[] = [];
    const slits: Slit[] = [];
    const grant = (
      what: "plumbSlit" | "levelSlit",
      label: string,
      asked: string,
      ask: () => number | undefined,
    ): void => {
      try {
        const width = ask();
        if (width !== undefined) slits.push({ field: `path.${what}`, label, width });
      } catch (fault) {
        if (!(fault instanceof Refusal)) throw fault;
        // Named as the wish stands on the page.
        faults.push(new Refusal({ ...fault.record, field: asked }).message);
      }
    };
    grant("plumbSlit", "plumb slit", "wavelengths apart", () =>
      wavelength().trim() === ""
        ? undefined
        : props.grant(parseQuantity(wavelength(), "m", "wavelengths apart"), undefined).plumbSlit,
    );
    grant("levelSlit", "level slit", "bends apart", () =>
      deflection().trim() === ""
        ? undefined
        : props.grant(undefined, parseQuantity(deflection(), "rad", "bends apart")).levelSlit,
    );
    return { slits, faults };
  });
  return (
    <div class="slit-wish">
      <h3>The widest slits that still show</h3>
      <p>
        <label for={ids[0]}>wavelengths apart</label>{" "}
        <input
          id={ids[0]}
          value={wavelength()}
          size="10"
          onInput={(event) => setWavelength(event.currentTarget.value)}
        />{" "}
        <label for={ids[1]}>bends apart</label>{" "}
        <input
          id={ids[1]}
          value={deflection()}
          size="10"
          onInput={(event) => setDeflection(event.currentTarget.value)}
        />
      </p>
      <div role="status">
        <For each={answer().slits}>
          {(slit) => (
            <p>
              {`${slit.label} ${quantity(slit.width, "m", "um")} `}
              <button
                type="button"
                class="word mend"
                onClick={() =>
                  props.store.set({ [slit.field]: written(slit.width) }, `${slit.label} for the wish`)
                }
              >
                {`set the ${slit.label}`}
              </button>
            </p>
          )}
        </For>
        <For each={answer().faults}>{(sentence) => <p class="fault">{sentence}</p>}</For>
        <When when={answer().slits.length + answer().faults.length === 0}>
          <p class="quiet">Write a wish, or both.</p>
        </When>
      </div>
    </div>
  );
}

interface Slit {
  readonly field: string;
  readonly label: string;
  /** m */
  readonly width: number;
}

/** Rounded down, so that the wish stays granted. */
function written(metres: number): string {
  return `${Math.max(1, Math.floor(metres * 1e6))} um`;
}
