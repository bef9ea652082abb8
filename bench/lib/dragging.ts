/** Drags the rules of the page as a hand does, and counts the pictures that answer. */
import type { Page } from "playwright-core";

/** Rules that are dragged, and the element whose fields hold them. */
export const RULES: Readonly<Record<string, string>> = {
  below: "vapour tube",
  "gas pressure": "vapour tube",
  "plumb slit": "plumb slit",
  "level slit": "level slit",
  "beam height": "collimator",
};

export interface Dragged {
  /** animation frames, each with a new place of the hand */
  readonly frames: number;
  /** pictures drawn, by their width in pixels */
  readonly widths: Readonly<Record<string, number>>;
}

/**
 * Makes a page count its pictures: a worker answers once for each, when it has drawn it on the page's canvas or sends its
 * bytes. To be called before the page opens.
 */
export async function countPictures(page: Page): Promise<void> {
  await page.addInitScript(`{
    globalThis.pictures = {};
    const Plain = globalThis.Worker;
    globalThis.Worker = class extends Plain {
      constructor(...given) {
        super(...given);
        this.addEventListener("message", (event) => {
          const picture = event.data?.outcome?.answer?.picture;
          if (picture !== undefined) pictures[picture.columns] = (pictures[picture.columns] ?? 0) + 1;
        });
      }
    };
  }`);
}

/** Opens the fields that hold a rule and moves it back and forth with the animation clock. */
export async function drag(page: Page, rule: string, seconds: number): Promise<Dragged> {
  await page.getByRole("radio", { name: RULES[rule], exact: true }).check();
  return page.evaluate(
    async ({ label, duration }) => {
      const input = document.querySelector<HTMLInputElement>(`input[aria-label="${label}"]`);
      if (input === null) throw new Error(`no rule "${label}"`);
      const { pictures } = globalThis as unknown as { pictures: Record<string, number> };
      const before = { ...pictures };
      let frames = 0;
      const began = performance.now();
      while (performance.now() - began < duration * 1000) {
        input.value = String(500 + 300 * Math.sin(frames / 15));
        input.dispatchEvent(new Event("input", { bubbles: true }));
        await new Promise(requestAnimationFrame);
        frames += 1;
      }
      const widths: Record<string, number> = {};
      for (const [width, count] of Object.entries(pictures)) {
        const more = count - (before[width] ?? 0);
        if (more > 0) widths[width] = more;
      }
      input.dispatchEvent(new Event("change", { bubbles: true }));
      return { frames, widths };
    },
    { label: `${rule}, drag`, duration: seconds },
  );
}

export interface Answered {
  /** from the hand's event to the worker's word that the picture is drawn, ms; one per step */
  readonly answer: readonly number[];
  /** from the hand's event to the frame after that, which has it on the screen, ms */
  readonly shown: readonly number[];
}

/** Moves a rule step by step, each when the picture of the one before is on the screen, and takes the time of each; to be called while the page is warm. */
export async function answerTimes(page: Page, rule: string, steps: number): Promise<Answered> {
  await page.getByRole("radio", { name: RULES[rule], exact: true }).check();
  return page.evaluate(
    async ({ label, wanted }) => {
      const input = document.querySelector<HTMLInputElement>(`input[aria-label="${label}"]`);
      if (input === null) throw new Error(`no rule "${label}"`);
      const { pictures } = globalThis as unknown as { pictures: Record<string, number> };
      // A step that leaves the rule where it stands brings no picture, ms.
      const STALE = 1000;
      const answer: number[] = [];
      const shown: number[] = [];
      for (let step = 0; step < wanted; step++) {
        const before = Object.values(pictures).reduce((sum, count) => sum + count, 0);
        const began = performance.now();
        input.value = String(500 + 300 * Math.sin(step / 15));
        input.dispatchEvent(new Event("input", { bubbles: true }));
        // The worker's message comes between two turns of this loop; a channel turns it without the timers' four milliseconds.
        let drawn = before;
        while (drawn === before && performance.now() - began < STALE) {
          await new Promise<void>((done) => {
            const { port1, port2 } = new MessageChannel();
            port1.onmessage = () => {
              port1.close();
              done();
            };
            port2.postMessage(null);
          });
          drawn = Object.values(pictures).reduce((sum, count) => sum + count, 0);
        }
        if (drawn === before) continue;
        answer.push(performance.now() - began);
        await new Promise(requestAnimationFrame);
        shown.push(performance.now() - began);
      }
      input.dispatchEvent(new Event("change", { bubbles: true }));
      return { answer, shown };
    },
    { label: `${rule}, drag`, wanted: steps },
  );
}
