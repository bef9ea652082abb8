/** Asks the browser to keep this page for times without a server. A browser that cannot, or may not, is left alone. */
export function keepForOffline(): void {
  if (!("serviceWorker" in navigator)) return;
  // The page's own file name carries the build's fingerprint: a new build is a new worker with a new cache.
  const build = new URL(import.meta.url).pathname.split("/").at(-1) ?? "";
  navigator.serviceWorker.register(`./offline.js?build=${encodeURIComponent(build)}`).catch(() => undefined);
}
