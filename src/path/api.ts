/**
 * Types of the path room: from the lamp to the plane of the sensor, in metres and radians, without pixels.
 * z along the light, y up, x to the right as the camera sees it; longer wavelengths to the right.
 */

/** Where the light comes from. */
export interface SourceInput {
  /** one of "halogen" | "carbon-arc" | "xenon-arc" | "led" | "flat" (equal light at every wavelength) */
  readonly kind: "halogen" | "carbon-arc" | "xenon-arc" | "led" | "flat";
  /** colour or crater temperature, K (halogen, arc) */
  readonly temperature?: number;
}

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
    }
  | {
      readonly kind: "grating";
      /** grooves per metre */
      readonly groovesPerMetre: number;
      /** order of diffraction, usually 1 */
      readonly order: number;
      /** angle at which the light meets the grating, rad, counted like the diffracted angle; default 0 (square on) */
      readonly incidence?: number;
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
