/** Everything a student reads in the explaining views, in English. Another language is another file of this shape. */
export const WORDS = {
  choose: "What is explained",
  still: "save as a still",
  slider: "colour of the light that drives",
  views: {
    oscillator: "one oscillator",
    gap: "why the curve breaks",
    pair: "two oscillators",
    strengths: "classical and quantum",
    velocities: "three velocities",
    layers: "a prism of vapour",
    warming: "cold to hot",
  },
  oscillator: {
    lead: "Light shakes an electron that is held by a spring. Far below its own frequency it follows in step, far above it lags by half a turn, and at resonance by a quarter: there it takes most.",
    formula: "x(t) = \\frac{(e/m)\\,E}{\\omega_0^2 - \\omega^2 - i\\gamma\\omega}\\,e^{-i\\omega t}",
    across: "across the gap",
    within: "inside the line",
    scale: "How far the slider reaches",
    drive: "the light's push",
    answer: "the electron's place",
    phase: (turns: string, amplitude: string) =>
      `It lags by ${turns} of a turn and swings ${amplitude} of what it would at resonance.`,
    index: "n − 1 and the light absorbed, from all lines of the metal at the tube's density",
    tube: (bend: string) => `In the tube this colour bends ${bend} (drawn larger).`,
    picture: "The same colour is the dotted line in the picture above.",
  },
  gap: {
    lead: "The bend goes on growing towards the line, but the light runs out first. What the picture shows is the part of the curve whose light is left; the gap hides the rest.",
    formula: "\\theta = \\frac{n-1}{N}\\,G \\qquad T = e^{-\\alpha\\,C/N}",
    threshold: "least light that the eye or camera still sees",
    shown: "seen",
    hidden: "hidden: too dark",
    says: (hidden: string, seen: string) =>
      `With that threshold the curve is seen up to ${seen}; ${hidden} of the wavelengths in view are hidden.`,
  },
  pair: {
    lead: "Two oscillators side by side, one for each line of the pair. Each bends light its own way; between the lines they pull against each other, and at one wavelength they cancel. Where that is tells the ratio of their strengths.",
    formula:
      "n - 1 = \\frac{r_e N}{2\\pi}\\sum_i \\frac{f_i\\,\\lambda_i^2\\,\\lambda^2}{\\lambda^2-\\lambda_i^2}",
    ratio: "strength of the shorter line over the longer",
    published: (ratio: string) => `published: ${ratio}`,
    zero: (zero: string, own: string) =>
      `With this ratio the pair alone cancels at ${zero} vacuum; the whole vapour of this setup at ${own}.`,
    none: "This view needs two lines in the picture: open a setup with a pair.",
  },
  strengths: {
    lead: "A classical atom has one electron on one spring: strength 1 in a single line. The quantum atom shares this one out over all its lines. The numbers below are published.",
    formula: "\\sum_i f_i = 1",
    line: "line, vacuum",
    strength: "published strength",
    classical: "bend in the classical atom over this one",
    sum: (sum: string) =>
      `The lines listed here take ${sum} of the one electron; the rest lies in higher lines and beyond the limit of the series.`,
    above: (sum: string) =>
      `The lines listed here take ${sum}: more than one electron, because the outer electron is barred from the filled shells below it and takes over their share.`,
  },
  velocities: {
    lead: "Crests, the middle of a pulse, and its very front run at three speeds. Where n is below one the crests outrun c, yet no light arrives before the front does, and the front runs at c: the atoms have not yet begun to answer.",
    formula:
      "v_\\text{phase} = \\frac{c}{n} \\qquad v_\\text{group} = \\frac{c}{n+\\omega\\,\\mathrm{d}n/\\mathrm{d}\\omega} \\qquad v_\\text{front} = c",
    duration: "length of the pulse",
    before: "the pulse after as much vacuum",
    after: "the pulse after the vapour",
    marks: (phase: string, group: string, ahead: string) =>
      `At this colour the crests run at ${phase}, a long pulse at ${group}. Of the energy that arrives, ${ahead} is found before the front would arrive at c: the trace of a finite computation, nothing more.`,
    time: "time after a front at c",
    busy: "The pulse is being carried through the vapour…",
  },
  layers: {
    lead: "The vapour is dense below and thin above. Light that it slows, on the red side of a line, bends towards the dense side, as in a glass prism with its base below; light that it hastens, on the blue side, bends away from it.",
    formula: "\\frac{\\mathrm{d}\\theta}{\\mathrm{d}s} = \\frac{\\mathrm{d}n}{\\mathrm{d}y}",
    stands: "How the tube stands",
    upright: "hot below",
    turned: "turned over",
    red: "red side of the line",
    blue: "blue side of the line",
    note: "Turn the tube over and both change sides; a camera that turns the picture over does the same to what you see.",
  },
  warming: {
    lead: "Cold, the line is straight. As the metal warms the vapour thickens, by two or three per cent for every kelvin, and the curve grows out of the line until the gap opens.",
    from: "metal's temperature",
    steps: (count: number) => `${count} curves from cold to hot, the hottest darkest.`,
  },
} as const;
