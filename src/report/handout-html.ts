/** The class's sheet and the teacher's, as pages. */
import { metalOf, type Forecast } from "../setup/index.ts";
import { type HandoutNumbers, handoutNumbers } from "./handout.ts";
import { equation, numberOf, page, pictureAddress, type Telling } from "./page.ts";
import { escaped } from "./svg.ts";

export interface Handout {
  readonly numbers: HandoutNumbers;
  readonly handout: string;
  readonly solutions: string;
}

interface Question {
  readonly ask: string;
  readonly solution: string;
}

/** @throws Refusal where the setup's picture holds nothing that a ruler could measure */
export function handoutOf(forecast: Forecast, telling: Telling): Handout {
  const W = telling.language.handout;
  const numbers = handoutNumbers(forecast, W.cannot);
  const title = W.heading(W.title, forecast.setup.title);
  const { element } = metalOf(forecast.setup, "the handout");
  const questions = questionsOf(numbers, telling);
  const asked = `<ol class="questions">${questions.map((each) => `<li>${escaped(each.ask)}</li>`).join("")}</ol>`;
  const solved = `<ol class="questions">${questions.map((each) => `<li>${escaped(each.ask)}<br><strong>${W.answer}:</strong> ${each.solution}</li>`).join("")}</ol>`;
  const head = `<h1>${escaped(title)}</h1>`;
  const picture = figure(forecast, numbers, telling);
  const given = givenPart(numbers, telling);
  const plain = `<p>${escaped(W.plain(telling.language.metals[element] ?? element))}</p>`;
  const ask2 = `<h2>${W.questions}</h2>`;
  return {
    numbers,
    handout: page(title, head + picture + plain + given + ask2 + asked, telling),
    solutions: page(
      W.heading(W.solutions, forecast.setup.title),
      `<h1>${escaped(W.solutions)}</h1>${picture}${given}${solved}`,
      telling,
    ),
  };
}

function nm(telling: Telling, wavelength: number, name: string, digits: 6 | 7 = 6): string {
  return `${numberOf(telling, wavelength * 1e9, name, digits)} nm`;
}

function mm(telling: Telling, length: number, name: string): string {
  return `${numberOf(telling, Number(length.toFixed(1)), name, length >= 99.95 ? 4 : length >= 9.95 ? 3 : 2)} mm`;
}

/** The picture in true millimetres, with names over it and a bar to prove the printer. */
function figure(forecast: Forecast, numbers: HandoutNumbers, telling: Telling): string {
  const W = telling.language.handout;
  const { plain } = telling.numbers;
  const { width, height, cold, marks, gaps, bends, zero, pixelsPerMm, enlargement } = numbers;
  const { camera } = forecast.setup;
  const top = 8;
  const label = (x: number, y: number, text: string): string =>
    `<text x="${x.toFixed(2)}" y="${y}" text-anchor="middle">${escaped(text)}</text>`;
  const names = [
    ...marks.map(
      ({ x, name, wavelength }) =>
        `${label(x, 3.5, `${name} ${telling.numbers.fixed(wavelength * 1e9, 0)} nm`)}<path d="M${x.toFixed(2)} 4.5V${top}"/>`,
    ),
    ...gaps.map(({ x, name }) => label(x, top - 1, name)),
    ...[...bends, ...(zero === null ? [] : [zero])].map(
      ({ x, name }) =>
        `${label(x, top + height + 5.5, name)}<path d="M${x.toFixed(2)} ${top + height}v2.5"/><path d="M${x.toFixed(2)} ${top}V${top + height}" stroke-width="0.08" stroke-dasharray="0.6 1.4"/>`,
    ),
  ];
  const total = top + height + 16;
  const bar = top + height + 12;
  const words = W.scale(
    plain(pixelsPerMm, 1),
    plain(pixelsPerMm * camera.pixel * 1e6, 4),
    plain(enlargement, 4),
  );
  return `<figure><svg xmlns="http://www.w3.org/2000/svg" style="max-width:none" width="${width}mm" height="${total}mm" viewBox="0 0 ${width} ${total}" role="img" aria-label="${escaped(W.made)}" font-family="sans-serif" font-size="3.2" stroke="#000" stroke-width="0.2" fill="none"><g><image x="0" y="${top}" width="${width}" height="${height}" href="${pictureAddress(forecast.frame, true)}"/><rect x="0" y="${top}" width="${width}" height="${height}"/><path d="M0 ${(top + cold[0]).toFixed(2)}L${width} ${(top + cold[1]).toFixed(2)}" stroke-dasharray="2 2"/></g><g class="names">${names.join("").replaceAll("<text ", '<text fill="#000" stroke="none" ')}</g><path d="M0 ${bar}h100M0 ${bar - 1.5}v3M100 ${bar - 1.5}v3" stroke-width="0.4"/><text fill="#000" stroke="none" x="102" y="${bar + 1}">100 mm</text></svg><figcaption>${escaped(`${W.made}. ${words} ${W.bar}`)}</figcaption></figure>`;
}

const FORMULA = String.raw`\theta = \frac{r_e}{2\pi}\, G \left(\sum_i f_i \frac{\lambda_i^2 \lambda^2}{\lambda^2 - \lambda_i^2} + F\right), \qquad r_e = 2.818 \times 10^{-15}\ \mathrm{m}`;
const RATIO = String.raw`\frac{f_1}{f_2} = -\frac{s_2 + F / f_2}{s_1}, \qquad s_i = \frac{\lambda_i^2 \lambda_z^2}{\lambda_z^2 - \lambda_i^2}`;

function givenPart(given: HandoutNumbers, telling: Telling): string {
  const W = telling.language.handout;
  const { gaps, bends, zero, perRadian, marks, farLines, gasAngle } = given;
  const rows = [
    ...marks.map(({ name, wavelength }) => [
      name,
      `${W.wavelength} ${nm(telling, wavelength, `${name}.wavelength`)}`,
    ]),
    ...gaps.map(({ name, wavelength, strength }) => [
      name,
      `${W.wavelength} ${nm(telling, wavelength, `${name}.wavelength`, 7)}, ${W.strength} = ${numberOf(telling, strength, `${name}.strength`)}`,
    ]),
    ...[...bends, ...(zero === null ? [] : [zero])].map(({ name, wavelength }) => [
      name,
      `${W.wavelength} ${nm(telling, wavelength, `${name}.wavelength`, 7)}`,
    ]),
    ["", `${W.farLines}: ${numberOf(telling, farLines, "farLines", 3)} m²`],
    ["", `${W.gas}: ${numberOf(telling, gasAngle * 1e3, "gasAngle", 3)} mrad`],
    ["", `${W.lever}: ${numberOf(telling, Math.abs(perRadian) * 1e3, "perRadian")} mm`],
  ];
  return `<h2>${W.given}</h2><table>${rows.map(([name, text]) => `<tr><th scope="row">${name}</th><td>${text}</td></tr>`).join("")}</table>${equation(FORMULA)}${zero === null ? "" : equation(RATIO)}`;
}

function questionsOf(numbers: HandoutNumbers, telling: Telling): Question[] {
  const W = telling.language.handout;
  const { ask, solve } = W;
  const { marks, nmPerMm, gaps, bends, zero, columnGradient } = numbers;
  const [first, second] = marks;
  return [
    {
      ask: ask.scale,
      solution: `${mm(telling, Math.abs(second.x - first.x), "marks.distance")}; ${numberOf(telling, Math.abs(nmPerMm), "nmPerMm", 3)} nm.`,
    },
    ...gaps.flatMap((gap) => {
      const even = first.wavelength + (gap.x - first.x) * nmPerMm * 1e-9;
      const off = (even - gap.wavelength) * 1e9;
      return [
        {
          ask: ask.line(gap.name),
          solution: solve.line(
            mm(telling, gap.x, `${gap.name}.x`),
            nm(telling, even, `${gap.name}.even`),
            `${numberOf(telling, off, `${gap.name}.off`, 2)} nm`,
          ),
        },
        ...(gap.width < 1
          ? []
          : [
              {
                ask: ask.gap(gap.name),
                solution: solve.gap(
                  mm(telling, gap.width, `${gap.name}.width`),
                  `${numberOf(telling, gap.span * 1e9, `${gap.name}.span`, 2)} nm`,
                  `${numberOf(telling, Math.abs(nmPerMm) / 2, `${gap.name}.ruler`, 2)} nm`,
                ),
              },
            ]),
      ];
    }),
    ...bends.flatMap((bend) => {
      const part = 0.5 / Math.abs(bend.height);
      return [
        {
          ask: ask.bend(bend.name),
          solution: solve.bend(
            `${mm(telling, Math.abs(bend.height), `${bend.name}.height`)} ${bend.height > 0 ? W.up : W.down}`,
            `${numberOf(telling, Math.abs(bend.angle) * 1e3, `${bend.name}.angle`, 3)} mrad`,
            `${numberOf(telling, 100 * part, `${bend.name}.percent`, 2)} %`,
          ),
        },
        {
          ask: ask.gradient(bend.name),
          solution: solve.gradient(
            `${numberOf(telling, bend.gradient, `${bend.name}.gradient`, 3)} m⁻³`,
            `${numberOf(telling, Math.abs(bend.gradient) * part, `${bend.name}.uncertainty`, 1)} m⁻³`,
            `${numberOf(telling, columnGradient, `${bend.name}.program`, 3)} m⁻³`,
          ),
        },
      ];
    }),
    ...(zero === null
      ? []
      : [
          {
            ask: ask.zero,
            solution: solve.zero(
              mm(telling, Math.abs(zero.x - (gaps[0].x + gaps[1].x) / 2), "Z.offset"),
              numberOf(telling, zero.ratio, "Z.ratio", 3),
              numberOf(telling, publishedRatio(gaps), "Z.published", 3),
            ),
          },
        ]),
  ];
}

function publishedRatio(gaps: HandoutNumbers["gaps"]): number {
  const [short, long] = gaps.toSorted((a, b) => a.wavelength - b.wavelength);
  return short.strength / long.strength;
}
