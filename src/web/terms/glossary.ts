/**
 * The words of the trade, explained for a physicist who has not done this experiment. Formulas name their source; a
 * source from a textbook is named from memory and said so.
 */
export interface Term {
  readonly term: string;
  readonly meaning: string;
  /** written with ^ for raised digits, as the page writes numbers */
  readonly formula?: string;
  readonly source?: string;
}

export interface Chapter {
  readonly title: string;
  readonly terms: readonly Term[];
}

const BORN_WOLF = "Born and Wolf, Principles of Optics, chapters 2 to 4 (from memory)";
const CORNEY = "Corney, Atomic and Laser Spectroscopy, chapters 4, 5, 8 and 9 (from memory)";

export const GLOSSARY: readonly Chapter[] = [
  {
    title: "The picture",
    terms: [
      {
        term: "crossed prisms",
        meaning:
          "Two things that disperse at right angles: the vapour moves light up and down, the glass prism spreads it sideways, so that the light itself draws bend against wavelength.",
      },
      {
        term: "cold line",
        meaning:
          "The straight streak that the camera sees before the tube is heated: the image of the level slit in every colour. Everything in the hot picture is measured from it.",
      },
      {
        term: "gap",
        meaning:
          "The dark interval around a line where too little light gets through to be seen. It is not the width of the line: a line a thousand times narrower can cut it.",
      },
      {
        term: "half-gap",
        meaning: "From the centre of the line to where half of the light is left.",
        formula: "Δω = √(π r c f γ N L / ln 2)",
        source: `far wing of a pressure-broadened line; ${CORNEY}`,
      },
      {
        term: "zero between the lines",
        meaning:
          "The wavelength between the two lines of a pair where the vapour neither slows nor hastens light. It depends on strengths and wavelengths only, not on how hot the tube is, and so tests the wavelength scale without a lamp. Also called tune-out wavelength.",
        source: "tune-out wavelengths measured with cold atoms are listed in the reference data",
      },
      {
        term: "tilt",
        meaning:
          "The slope of the cold line in the picture, by a roll of the camera or a level slit that is not level.",
      },
      {
        term: "dark, five ways",
        meaning:
          "Light can be absorbed, bent out of a lens, cut by a wall or the end of a slit, lost in fog, or fall beside the sensor. Only the first is the line itself.",
      },
    ],
  },
  {
    title: "Atoms and light",
    terms: [
      {
        term: "refractivity",
        meaning:
          "n − 1, how much more than a vacuum the matter slows the crests of a wave; negative where it hastens them.",
        formula: "n − 1 ≈ r f N λ^3 / (4π Δλ), with r the classical radius of the electron",
        source: `classical oscillator near one line; ${BORN_WOLF}`,
      },
      {
        term: "normal and anomalous dispersion",
        meaning:
          "Normal: n falls towards longer wavelengths, as in glass, and as on both steep branches beside a line. Anomalous: n rises with wavelength, which happens inside the line only, where it is dark.",
      },
      {
        term: "oscillator strength",
        meaning:
          "How many classical electrons' worth of bending and absorbing a line has; here always that of absorption. A single valence electron shares out a total of one over all its lines.",
        formula: "Σ f = 1",
        source: `Thomas, Reiche and Kuhn's sum rule; ${CORNEY}`,
      },
      {
        term: "resonance line",
        meaning:
          "A line that starts from the ground state, the only state in which a vapour of this temperature has many atoms.",
      },
      {
        term: "pair, doublet",
        meaning:
          "Two lines of one term, split by the electron's spin. The strengths of the strong pair stand near two to one; those of higher pairs do not.",
      },
      {
        term: "natural, Doppler, pressure broadening",
        meaning:
          "By the finite life of the state, by the motion of the atoms, by collisions with their own kind and with the gas. The first and the last have far wings and rule the gap; the Doppler width only rounds the core.",
        formula: "γ = Γ + 2π (β N + β′ p)",
        source: CORNEY,
      },
      {
        term: "hyperfine structure",
        meaning:
          "A line's split into several by the nucleus, some gigahertz wide; seen in the core, hardly in the wings.",
      },
      {
        term: "equivalent width",
        meaning:
          "Width of a wholly dark strip that takes as much light as the line does: a number that survives a spectroscope too coarse to show the line's shape.",
        formula: "W = 2π √(r c f γ N L)",
        source:
          "square-root part of the curve of growth, in rad/s, as the integral over the wings gives it (Corney, from memory)",
      },
      {
        term: "dimer",
        meaning:
          "A molecule of two metal atoms. Dense vapours hold a few, and their bands darken stretches of the spectrum.",
      },
    ],
  },
  {
    title: "Velocities",
    terms: [
      {
        term: "phase velocity",
        meaning:
          "How fast crests of an endless wave run. Greater than c wherever n is below one; it carries neither energy nor news.",
        formula: "v = c / n",
        source: BORN_WOLF,
      },
      {
        term: "group velocity",
        meaning:
          "How fast the middle of a long pulse runs where the matter is clear. Inside a line, where light is swallowed within its own wavelength of travel, the number loses this meaning.",
        formula: "v = c / (n + ω dn/dω)",
        source: BORN_WOLF,
      },
      {
        term: "front velocity",
        meaning:
          "How fast the very first light of a sudden pulse runs: c, in any matter, since the matter has not yet begun to answer.",
        source:
          "Sommerfeld and Brillouin 1914, in Brillouin, Wave Propagation and Group Velocity (from memory)",
      },
    ],
  },
  {
    title: "The tube",
    terms: [
      {
        term: "vapour prism",
        meaning:
          "A layer of vapour, dense below and thin above, bends light as a prism does. It has no apex angle; what counts is the gradient of its density times its length.",
        formula: "θ = ((n − 1)/N) · G",
        source: `ray equation for small bends; ${BORN_WOLF}`,
      },
      {
        term: "column density",
        meaning:
          "Atoms in a line of sight per area: density summed along the light. Absorption knows only this.",
        formula: "C = ∫ N dz",
      },
      {
        term: "column gradient",
        meaning:
          "How fast the column density changes with height. Bending knows only this; below zero where the dense vapour lies below.",
        formula: "G = ∫ ∂N/∂y dz",
      },
      {
        term: "scale height",
        meaning:
          "Density over its gradient: the height over which the density would fall to nothing at the rate it falls on the beam.",
        formula: "H = N / |dN/dy|",
      },
      {
        term: "buffer gas",
        meaning:
          "An inert gas in which the metal vapour diffuses slowly, so that it stays hot below, thin above, and away from the windows.",
      },
      {
        term: "heat-pipe regime",
        meaning:
          "When the vapour's pressure reaches the gas's, the vapour pushes the gas aside and fills the hot zone at the gas's pressure.",
      },
      {
        term: "supersaturation",
        meaning:
          "Pressure of the vapour over what liquid metal would give at the same temperature. Well above one, drops form: fog.",
      },
      {
        term: "Rayleigh number",
        meaning:
          "Drive of convection over what holds it back. Above a threshold of about 1700 the gas turns over and the layers are gone; it grows with the square of the pressure.",
        source:
          "horizontal layers: Chandrasekhar, Hydrodynamic and Hydromagnetic Stability (1708, computed again from the equations); a round bore is said to differ where the finding is shown",
      },
      {
        term: "Knudsen number",
        meaning:
          "Mean free path over the bore. Near one the atoms fly from wall to wall and no longer diffuse.",
      },
      {
        term: "charge",
        meaning:
          "The metal that was loaded. It returns where it settles as a liquid, and is lost for the day where it settles as a solid.",
      },
    ],
  },
  {
    title: "The bench",
    terms: [
      {
        term: "level slit, plumb slit",
        meaning:
          "The first slit lies level: its image is what is moved up and down. The second stands plumb: it cuts one column out of that image, and its width is the blur in wavelength.",
      },
      {
        term: "direct-vision prism",
        meaning:
          "A train of two kinds of glass that spreads the colours but lets one of them go straight on, so that bench and camera stay in line.",
      },
      {
        term: "smile",
        meaning:
          "A straight slit seen through a prism is curved, because rays from its ends meet the faces at a slant.",
      },
      {
        term: "resolving power",
        meaning:
          "Wavelength over the smallest difference of wavelengths told apart. A number in nanometres says more about one picture.",
      },
      {
        term: "ledger of the dark",
        meaning:
          "For every wavelength the share of light that was recorded, absorbed, bent out, cut or lost; the shares add up to one.",
      },
    ],
  },
  {
    title: "Measuring",
    terms: [
      {
        term: "standard uncertainty",
        meaning:
          "One standard deviation of what the value might be. The part from the picture's noise and the part from focal length, pixel and length of the vapour are given apart, and together.",
        source: "JCGM 100:2008, Guide to the Expression of Uncertainty in Measurement",
      },
      {
        term: "what a picture measures",
        meaning:
          "The bend gives strength times column gradient, the gap gives strength times width times column density; neither gives the density alone. The reading says what closed the circle.",
      },
      {
        term: "air and vacuum wavelengths",
        meaning:
          "The same light has a wavelength shorter by about 0.13 nm in air. The page says which it shows; inside, everything is in vacuum.",
        source: "Ciddor, Applied Optics 35, 1566 (1996)",
      },
    ],
  },
];
