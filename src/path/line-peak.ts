/** How much of a slit image's own brightness is left in its middle once blur and pixels have spread it. */
import { boxPixelGauss } from "../numerics/box-gauss.ts";

/**
 * Mean light on a pixel in the middle of a slit's image over that of the image before blur: the box of height W, folded with Gaussian and pixel; without blur min(1, W/p).
 * @param slit height of the image W, m
 * @param sigma standard deviation of blur by focus and diffraction, m
 * @param pixel p, m
 */
export function linePeak(slit: number, sigma: number, pixel: number): number {
  return (slit / pixel) * boxPixelGauss(0, slit / pixel, sigma / pixel);
}
