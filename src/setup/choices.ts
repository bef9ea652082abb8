/** Closed choices of the setup file. */

/** Elements a setup may heat; `index` answers for more. */
export const HEATABLE = ["Li", "Na", "K", "Rb", "Cs", "Mg", "Ca", "Sr", "Ba", "Zn"] as const;

export const BUFFER_GASES = ["He", "Ne", "Ar", "N2"] as const;

/** What a tube is made of; limits stand in data/strength.json. */
export const TUBE_MATERIALS = ["steel-304", "steel-316", "copper", "borosilicate", "fused-silica"] as const;

/** What a window is made of; strengths stand in data/strength.json. */
export const WINDOW_MATERIALS = ["fused-silica", "borosilicate", "crown", "sapphire"] as const;

/** What keeps the top of the tube cooler than the metal. */
export const COOLINGS = ["none", "air", "water"] as const;

/** What holds the vapour. */
export const VESSEL_KINDS = ["tube", "cell", "flame", "prism"] as const;

/** What a dye is dissolved in; "other" has one stated index. */
export const SOLVENT_CHOICES = ["water", "ethanol", "other"] as const;

/** What cools a part of a heated tube's outside. */
export const SHELL_COOLINGS = ["still-air", "fins", "blown-air", "liquid"] as const;

/** Liquids of a cooling loop; data/materials.json. */
export const COOLANTS = ["water", "oil"] as const;

/** Lagging; data/materials.json. */
export const INSULATIONS = ["none", "ceramic-fibre", "rock-wool"] as const;
