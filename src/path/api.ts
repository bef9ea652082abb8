/**
 * Types of the path room: from the lamp to the plane of the sensor, in metres and radians, without pixels.
 * z along the light, y up, x to the right as the camera sees it; longer wavelengths to the right.
 */

/** Where the light comes from. */
export interface SourceInput {
  /** one of "halogen" | "carbon-arc" | "xenon-arc" | "led" | "flat" (equal light at every wavelength) | "table" */
  readonly kind: "halogen" | "carbon-arc" | "xenon-arc" | "led" | "flat" | "table";
  /** K: of the filament itself (halogen), of the black body that has the arc's light (carbon, xenon) */
  readonly temperature?: number;
  /** carbon arc: light of the strongest cyanogen band at its head, as a multiple of the crater's; default 0, bands left out */
  readonly bands?: number;
  /** table: rows of vacuum wavelength, m, ascending, and relative power per wavelength, ≥ 0; none outside */
  readonly spectrum?: Table;
  /** table: radiance summed over its wavelengths, W/(m²·sr) */
  readonly radiance?: number;
  /** diameter of the luminous spot, m; undefined: large enough to fill slit and beam */
  readonly size?: number;
  /** rows of distance from the middle of the spot, m, ascending, and brightness, ≥ 0; dark beyond; takes the place of `size` */
  readonly profile?: Table;
}

/** How far a thing stands off the axis, m, as the camera sees it. */
export interface Aside {
  readonly right: number;
  readonly up: number;
}

/** Rows of numbers measured by oneself, wavelength (vacuum, m, ascending) first. */
export type Table = readonly (readonly number[])[];

/** What spreads the colours sideways. */
export type DisperserInput =
  | {
      /** crown–flint–crown (or five-element) direct-vision glass prism, traced through its plane faces */
      readonly kind: "direct-vision";
      /** six-digit glass code of the outer prisms, e.g. "517642" */
      readonly crown: string;
      /** six-digit glass code of the inner prism(s), e.g. "785258" */
      readonly flint: string;
      /** apex angle of the flint prism(s), rad */
      readonly flintApex: number;
      /** vacuum wavelength that leaves undeviated, m */
      readonly undeviated: number;
      /** 3 or 5 glasses in a train */
      readonly elements: 3 | 5;
      /** trains one behind the other, 1 or 2 */
      readonly trains: 1 | 2;
      /** angle by which the whole is turned about a plumb axis out of its right place, rad, default 0 */
      readonly turn?: number;
    }
  | {
      /** one prism, set at least deviation for the middle of the picture */
      readonly kind: "prism";
      /** six-digit code of its glass */
      readonly glass: string;
      /** rad */
      readonly apex: number;
      /** vacuum wavelength for which it stands at least deviation, m */
      readonly leastAt: number;
      readonly turn?: number;
    }
  | {
      /** a prism known by its measured deviation alone */
      readonly kind: "table";
      /** rows of vacuum wavelength, m, ascending, and deviation, rad */
      readonly table: Table;
    }
  | {
      readonly kind: "grating";
      /** grooves per metre */
      readonly groovesPerMetre: number;
      /** order of diffraction, usually 1 */
      readonly order: number;
      /** angle at which the light meets the grating, rad, counted like the diffracted angle; default 0 (square on) */
      readonly incidence?: number;
      /** share of its light sent into the order, 1, at the blaze where there is one; default 0.6, common practice, no source */
      readonly efficiency?: number;
      /** vacuum wavelength at which the order is strongest, m; default: alike at every wavelength */
      readonly blaze?: number;
      readonly turn?: number;
    }
  | {
      /** a scale known from elsewhere: straight line of wavelength against position on the sensor */
      readonly kind: "linear";
      /** m of vacuum wavelength per m on the sensor */
      readonly wavelengthPerLength: number;
    };

/** Distances on the rail that no focal length fixes, m. */
export interface RailInput {
  readonly lampToCondenser: number;
  readonly condenserToSlit: number;
  /** collimator to the nearer window of the tube */
  readonly collimatorToTube: number;
  /** farther window of the tube to the focusing lens */
  readonly tubeToLens: number;
  /** second collimator to the disperser's first face */
  readonly collimatorToDisperser: number;
  /** disperser's last face to the camera lens */
  readonly disperserToCamera: number;
}

/** Lenses of the bench in the order of the light. */
export type LensName = "collimator" | "focusing" | "second-collimator" | "camera";

/** How focal lengths change with wavelength, alike for all lenses of the bench but where one alone was measured. */
export type LensInput =
  | {
      readonly kind: "thin";
      /** relative change of focal length per wavelength, 1/m */
      readonly shift: number;
    }
  | {
      readonly kind: "table";
      /** rows of vacuum wavelength, m, ascending, and measured focal length, m */
      readonly table: Table;
      /** the lens that was measured; the others stay as they are, with "all" they change by the same share */
      readonly which: "all" | LensName;
    }
  | { readonly kind: "singlet"; readonly glass: string }
  | { readonly kind: "achromat"; readonly crown: string; readonly flint: string };

/** The stretch of bench from lamp to sensor. */
export interface PathInput {
  readonly source: SourceInput;
  /** opening of the level (horizontal) slit, m */
  readonly levelSlit: number;
  /** opening of the plumb (vertical) slit, m */
  readonly plumbSlit: number;
  /** lens that collimates the level slit's light, m */
  readonly collimatorFocalLength: number;
  /** lens that images the level slit on the plumb slit, F of displacement F·θ, m */
  readonly focalLength: number;
  /** lens that collimates the plumb slit's light for the disperser, m */
  readonly secondCollimatorFocalLength: number;
  readonly cameraFocalLength: number;
  readonly disperser: DisperserInput;
  /** vacuum wavelength that falls on the middle of the sensor, m */
  readonly centreWavelength: number;
  /** middle of the beam above the tube's axis, m */
  readonly beamHeight: number;
  /** height of the beam, m */
  readonly beamSize: number;
  /** width of the beam, m */
  readonly beamWidth: number;
  /** stray light as a share of the cold line's peak, 1 */
  readonly stray: number;
  /** rotation of the whole picture, rad, positive raises its right end (camera rolled) */
  readonly cameraRoll: number;
  /** slope of the level slit's image, rad, positive raises the right end of the cold line's image */
  readonly levelSlitTilt: number;
  /** blur by defocus and lens faults, standard deviation on the sensor, m */
  readonly defocus: number;
  /** true where the picture stands upside down on the sensor as it is stored */
  readonly inverted: boolean;
  readonly rail: RailInput;
  /** default: thin lenses without chromatic focal shift */
  readonly lens?: LensInput;
  /** how the size of the picture changes with colour: as the lenses' own glass makes it, or by a stated share per wavelength (1/m); default not at all */
  readonly lateralColour?:
    | { readonly kind: "lenses" }
    | { readonly kind: "stated"; readonly perWavelength: number };
  /** true: losses are counted part by part at each colour, and the picture shows them; default one figure for all faces */
  readonly eachColour?: boolean;
  /** rows of vacuum wavelength, m, ascending, and share of light that the disperser passes, 1; nothing outside */
  readonly disperserPasses?: Table;
  /** true: lamp's image and condenser's cone shape slit image and beam; default they count in the budget alone */
  readonly lampImage?: boolean;
  /** the luminous spot off the axis of the condenser and slit; default on it; with `lampImage` */
  readonly lampOffset?: Aside;
  /** the condenser off the axis; default on it; with `lampImage` */
  readonly condenserOffset?: Aside;
  /** true where the first collimator is a mirror: no faces and no chromatic shift of its own; default a lens */
  readonly mirrorCollimator?: boolean;
  /** vacuum wavelength for which everything is in focus, m; default centreWavelength */
  readonly sharpAt?: number;
  /** outline of the beam, for its diffraction; default "rectangular" (beamSize high, beamWidth wide), "round" has diameter beamSize */
  readonly aperture?: "rectangular" | "round";
  /** free diameter of the focusing lens, m; light bent beyond it is lost; default no edge */
  readonly lensDiameter?: number;
  /** length of the plumb slit, m; default no end */
  readonly plumbSlitLength?: number;
  /** share of the light lost to all but clean faces and the disperser: dust, coatings, absorption, 1; default 0 */
  readonly otherLosses?: number;
  /** free diameter of the condenser, m; default fills the beam */
  readonly condenserDiameter?: number;
  /** the level slit above the axis, m, default 0 */
  readonly levelSlitOffset?: number;
  /** the plumb slit to the right of the axis as the camera sees it, m, default 0 */
  readonly plumbSlitOffset?: number;
  /** the plumb slit out of plumb, rad, positive leans its top to the right, default 0 */
  readonly plumbSlitTilt?: number;
  /** the tube turned about its axis, rad, positive lifts its right side; π: upside down; default 0 */
  readonly tubeRoll?: number;
  /** angle between the faces of both windows together, rad, positive with the thick edge above, default 0 */
  readonly windowWedge?: number;
  /** glass of the windows (six-digit code, "fused-silica" or "sapphire"), for the wedge and for losses counted at each colour */
  readonly windowGlass?: string;
  /** thickness of each window, m, for the absorption in it, with `eachColour`; default 0 */
  readonly windowThickness?: number;
  /** a hollow prism in the place of the windows, with `eachColour` */
  readonly prismWalls?: {
    /** six-digit code */
    readonly glass: string;
    /** of each wall, m */
    readonly thickness: number;
    /** angles outside the first and the second wall, rad */
    readonly incidence: number;
    readonly emergence: number;
    /** index of the liquid, 1; reflections at the inner faces rest on it */
    readonly liquidIndex: number;
  };
  /** optical depth of smoke before the level slit, 1, default 0 */
  readonly smoke?: number;
  /** standard deviation of the smoke's optical depth as a share of it, 1, and how long a wisp lasts, s */
  readonly smokeFlicker?: { readonly share: number; readonly time: number };
  /** optical depth of fog in the hot tube, 1, default 0 */
  readonly fog?: number;
}

/** The stretch of spectrum that gets through the disperser and stays within the camera's view of it. */
export interface SpectralReach {
  /** shortest vacuum wavelength, m */
  readonly shortest: number;
  /** longest vacuum wavelength, m */
  readonly longest: number;
  /** position of the shortest on the sensor, m */
  readonly left: number;
  /** position of the longest on the sensor, m */
  readonly right: number;
  /** why it ends on either side, in words fit for a reader */
  readonly leftLimit: string;
  readonly rightLimit: string;
}

/** Map between vacuum wavelength and horizontal position on the sensor (0 = middle, positive right), at mid height. */
export interface SpectralMap {
  /** position on the sensor, m, of a vacuum wavelength in m; refuses what lies outside the reach */
  position(wavelength: number): number;
  /** the same for many wavelengths inside the reach, written to `out`: interpolated between traced rays to 1e-11 m */
  positions(wavelengths: Float64Array, out: Float64Array): void;
  /** vacuum wavelength, m, at a position on the sensor in m; refuses what lies outside the reach */
  wavelengthAt(position: number): number;
  /** line curvature: x shift = smile · y², 1/m, with y the height on the sensor; taken at the centre wavelength */
  readonly smile: number;
  readonly reach: SpectralReach;
  /** image of the plumb slit's width over camera/collimator focal length, 1: the disperser's own stretch */
  readonly stretch: number;
}

/** What the lenses make of slits and angles, at the sensor. */
export interface ImageScale {
  /** m on the sensor (up as stored) per rad of upward deflection at the tube; negative where the picture is inverted */
  readonly perRadian: number;
  /** height of the level slit's image, m */
  readonly levelSlitHeight: number;
  /** width of the plumb slit's image, m */
  readonly plumbSlitWidth: number;
  /** blur along the height beside slit and pixel: defocus with diffraction, standard deviation, m */
  readonly blurHeight: number;
  /** the same along the width, m */
  readonly blurWidth: number;
  /** roll of the whole picture about its middle, rad, positive raises the right end */
  readonly roll: number;
  /** slope of the level slit's image, rad, positive raises the right end */
  readonly levelSlitTilt: number;
  /** stray light, share of the cold line's peak, 1 */
  readonly stray: number;
  /** lamp whose spectrum the picture shows; without one every wavelength is alike */
  readonly source?: SourceInput;
  /** bench whose losses the picture shows; without one it shows none */
  readonly losses?: PathInput;
}

/**
 * The light that left the vapour, one curve per beam height.
 * Layout of the two-dimensional arrays: [height · wavelengths.length + i].
 */
export interface CurveBundle {
  /** vacuum wavelength, m, ascending, length n */
  readonly wavelengths: Float64Array;
  /** share of the beam, one per height, sum 1 */
  readonly weights: Float64Array;
  /** deflection at the tube, rad, positive upward, heights × n */
  readonly deflection: Float64Array;
  /** share of the light that passes the vapour, 0…1, heights × n */
  readonly transmission: Float64Array;
}
