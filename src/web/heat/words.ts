/** Times and temperatures as the warm-up writes them. */
export const celsius = (kelvin: number): string => `${Math.round(kelvin - 273.15)}\u202f°C`;

export const minutes = (seconds: number): string =>
  seconds < 5400 ? `${Math.round(seconds / 60)}\u202fmin` : `${(seconds / 3600).toFixed(1)}\u202fh`;

/** "1:02:07" or "02:07" */
export function clock(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds));
  const two = (n: number): string => String(n).padStart(2, "0");
  const hours = Math.floor(whole / 3600);
  const rest = `${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}`;
  return hours > 0 ? `${hours}:${rest}` : rest;
}
