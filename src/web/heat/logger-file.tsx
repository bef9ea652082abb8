/** A file that a logger wrote, dropped or chosen; the person says which column is what. */
import { createSignal, For, Show as When } from "solid-js";
import { type LoggerTable, loggerTable, type Place, PLACES } from "../../plan/logger-table.ts";
import { Refusal } from "../../quantity/refusal.ts";
import { type Reading, readingsOf } from "./log.ts";

/** Bytes. */
const LARGEST = 20e6;

const NAMES: Readonly<Record<Place, string>> = { bottom: "metal", top: "top", ends: "window" };

export function LoggerFile(props: { readonly onTake: (readings: readonly Reading[]) => void }) {
  const [table, setTable] = createSignal<LoggerTable>();
  const [columns, setColumns] = createSignal<Readonly<Record<Place, number | null>>>({
    bottom: null,
    top: null,
    ends: null,
  });
  const [minute, setMinute] = createSignal("0");
  const [said, setSaid] = createSignal<string>();
  const read = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    setTable(undefined);
    try {
      if (file.size > LARGEST)
        throw new Refusal({
          code: "too-large",
          field: file.name,
          received: `${file.size} bytes`,
          expected: `at most ${LARGEST} bytes`,
        });
      const found = loggerTable(await file.text(), file.name);
      setColumns(found.likely);
      setTable(found);
      setSaid(undefined);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      setSaid(error.message);
    }
  };
  const take = (found: LoggerTable): void => {
    const readings = readingsOf(found, columns(), Number(minute().replace(",", ".")) * 60 || 0);
    props.onTake(readings);
    setTable(undefined);
    setSaid(`${readings.length} readings taken.`);
  };
  return (
    <section
      class="logger"
      aria-label="File of a logger"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        event.stopPropagation();
        void read(event.dataTransfer?.files[0]);
      }}
    >
      <label class="write">
        <span class="quiet">file of a logger, dropped here or chosen (CSV)</span>
        <input
          type="file"
          accept=".csv,.txt,.tsv,.dat,text/csv,text/plain"
          onChange={(event) => {
            void read(event.currentTarget.files?.[0]);
            event.currentTarget.value = "";
          }}
        />
      </label>
      <p role="status">{said() ?? ""}</p>
      <When when={table()}>
        {(found) => (
          <div class="columns-of">
            <p>{`${found().time.length} rows over ${Math.round(((found().time.at(-1) ?? 0) - (found().time[0] ?? 0)) / 60)} minutes. Which column is what?`}</p>
            <For each={PLACES}>
              {(place) => (
                <label class="line">
                  <span>{NAMES[place]}</span>
                  <select
                    onChange={(event) =>
                      setColumns((was) => ({
                        ...was,
                        [place]: event.currentTarget.value === "" ? null : Number(event.currentTarget.value),
                      }))
                    }
                  >
                    <option value="" selected={columns()[place] === null}>
                      none
                    </option>
                    <For each={found().names}>
                      {(name, i) => (
                        <option value={i()} selected={columns()[place] === i()}>
                          {name}
                        </option>
                      )}
                    </For>
                  </select>
                </label>
              )}
            </For>
            <label class="line">
              <span>first row at minute</span>
              <input
                type="text"
                inputmode="decimal"
                value={minute()}
                onChange={(event) => setMinute(event.currentTarget.value)}
              />
            </label>
            <p class="deeds">
              <button type="button" class="word strong" onClick={() => take(found())}>
                take these readings
              </button>
            </p>
          </div>
        )}
      </When>
    </section>
  );
}
