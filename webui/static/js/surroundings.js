// What the desk is told of the reader's surroundings; server/surroundings.py tells the same from a request's headers.

const CUSTOMARY = new Set(["us", "lr", "mm"]); // countries that work in US customary units; common knowledge, no source

/** @returns {"us" | "metric"} shown where nothing was typed: us, unless the first language names another country */
export function units() {
  const [language, ...region] = (navigator.languages[0] ?? "en-US").toLowerCase().split("-");
  if (!region.length) return language === "en" ? "us" : "metric";
  return CUSTOMARY.has(region.join("-")) ? "us" : "metric";
}

/** Minutes the reader's clock is ahead of UTC. */
export const offsetMinutes = () => -new Date().getTimezoneOffset();
