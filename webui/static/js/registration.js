// The service worker's comings and goings: registered, looked for, and taken over from at the person's word.
const TAKE_OVER_MS = 5_000;

/**
 * Register it; a changed one is a sign of a new build.
 * @param {() => void} changed
 */
export async function register(changed) {
  const registration = await navigator.serviceWorker?.register("/service-worker.js");
  registration?.addEventListener("updatefound", changed);
}

/** Fetch the office's present one, which then waits. */
export async function fetchNewer() {
  const registration = await navigator.serviceWorker?.getRegistration();
  await registration?.update().catch(() => {});
}

/** Let the new service worker take the place of the old; a page that is loaded meanwhile would lose its requests. */
export async function takeOver() {
  const waiting = (await navigator.serviceWorker?.getRegistration())?.waiting;
  if (!waiting) return;
  const taken = new Promise((resolve) => navigator.serviceWorker.addEventListener("controllerchange", resolve));
  waiting.postMessage("take over");
  await Promise.race([taken, new Promise((resolve) => setTimeout(resolve, TAKE_OVER_MS))]);
}
