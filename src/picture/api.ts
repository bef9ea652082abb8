/**
 * Types of the picture room. Pixel coordinates: the first pixel spans 0 to 1, rows count from the top.
 * Images are row-major: index = row · columns + column.
 */

export interface PixelSize {
  readonly columns: number;
  readonly rows: number;
}

/**
 * A picture as read from or written to a file, linear or not, one channel of grey or three of colour (interleaved RGB).
 * 8-bit files are kept as 0…255, 16-bit as 0…65535: `depth` says which.
 */
export interface Frame extends PixelSize {
  readonly channels: 1 | 3;
  readonly depth: 8 | 16;
  readonly samples: Uint8Array | Uint16Array;
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
