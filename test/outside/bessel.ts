/** I_m(x) by its power series, Abramowitz & Stegun 9.6.10 (from memory), independent of the code under test. @param order 0, 1, 2 … */
export function besselI(order: number, x: number): number {
  let term = 1;
  for (let i = 1; i <= order; i++) term *= x / 2 / i;
  let sum = 0;
  for (let k = 1; k < 200; k++) {
    sum += term;
    term *= (x * x) / 4 / (k * (k + order));
  }
  return sum;
}
