// The seam: htmx asks here instead of the network. Pages of the desk are answered by the engine; while there is none,
// by the office, if what answers is the office.
import { newId } from "./ids.js";
import { DESK } from "./desk_paths.js";
import { units } from "./surroundings.js";

const PAGE_MS = 15_000;
const patterns = DESK.map((pattern) => new RegExp(pattern));

/** @param {string} path */
export const isDesk = (path) => patterns.some((pattern) => pattern.test(path));

/** A page that could not be had; nothing is swapped, so what was typed stays. code as in status.js */
export class NoPage extends Error {
  /**
   * @param {string} code
   * @param {string} [text]
   */
  constructor(code, text) {
    super(text ?? code);
    this.code = code;
  }
}

/**
 * Put the seam into htmx.
 * @param {any} htmx
 * @param {import("./bridge.js").Engine} engine
 */
export function sew(htmx, engine) {
  htmx.registerExtension("dewbook-seam", {
    htmx_config_request: (/** @type {Element} */ element, /** @type {any} */ detail) => {
      const { request } = detail.ctx;
      if (!isDesk(new URL(request.action, location.href).pathname)) return asksByItself(element) || leave(request);
      if (request.method === "POST") nameOnce(request);
      detail.ctx.fetch = (/** @type {string} */ action, /** @type {any} */ asked) => page(engine, action, asked);
      return true;
    },
  });
}

/**
 * What asks by itself, like the Board every few seconds, asks the office as it is and never leaves the page.
 * @param {Element | null | undefined} element
 */
export const asksByItself = (element) => element?.hasAttribute("hx-trigger") ?? false;

/**
 * Addresses of the office and its doors are gone to, not fetched.
 * @param {any} request
 */
function leave(request) {
  if (request.method === "GET") location.assign(request.action);
  else request.form?.submit();
  return false;
}

/**
 * The one-time id of a form: made at its first submit and kept by it, so that a second tap says the same.
 * @param {any} request
 */
function nameOnce(request) {
  const field = request.form?.elements.namedItem("once");
  if (!field) return;
  field.value ||= newId();
  request.body.set("once", field.value);
}

/**
 * @param {import("./bridge.js").Engine} engine
 * @param {string} action
 * @param {any} asked
 * @returns {Promise<Response>}
 */
async function page(engine, action, asked) {
  if (engine.state === "starting") await engine.settled;
  if (engine.state !== "ready") return fromOffice(action, asked);
  const url = new URL(action, location.href);
  const answer = await engine.answer({
    method: asked.method,
    path: url.pathname,
    query: Object.fromEntries(url.searchParams),
    form: asked.body ? [...asked.body].map(([name, value]) => [name, String(value)]) : [],
    kind: asked.headers["HX-Request-Type"] ?? "full",
    target: (asked.headers["HX-Target"] ?? "").split("#").pop(),
    online: navigator.onLine,
    units: units(),
  });
  return new Response(answer.html, { status: answer.status, headers: answer.headers });
}

/**
 * @param {string} action
 * @param {any} asked
 * @returns {Promise<Response>}
 */
async function fromOffice(action, asked) {
  let response;
  try {
    response = await fetch(action, { ...asked, signal: AbortSignal.timeout(PAGE_MS), cache: "no-store" });
  } catch (error) {
    throw new NoPage(error.name === "TimeoutError" ? "stalled" : "no_signal", String(error));
  }
  if (response.headers.get("HX-Retarget") === "#status") {
    if (response.status === 401) throw new NoPage("sign_in");
    const said = new DOMParser().parseFromString(await response.text(), "text/html").body.textContent ?? "";
    throw new NoPage("office", said.trim()); // the office says why not, in a line of its own
  }
  const policy = response.headers.get("Content-Security-Policy") ?? "";
  if (response.redirected && new URL(response.url).pathname === "/sign-in") throw new NoPage("sign_in");
  if (response.status >= 500) throw new NoPage(response.status === 500 ? "broken" : "busy");
  if (!policy.includes("'wasm-unsafe-eval'")) throw new NoPage("portal"); // no page of the office lacks its policy
  const next = response.headers.get("HX-Push-Url") ?? (asked.method === "GET" ? action : "");
  if (next && isOfAnotherBuild(response)) {
    location.assign(next); // a whole page, so that no part of it stands among scripts and styles of this build
    return new Promise(() => {});
  }
  return response;
}

/**
 * Whether the office has another build than this page, which it gave itself. The shell is from the phone: to navigate
 * would bring it again.
 * @param {Response} response
 */
function isOfAnotherBuild(response) {
  const theirs = response.headers.get("Dewbook-Build");
  const { build, host } = document.documentElement.dataset;
  return host !== "phone" && Boolean(theirs && build) && theirs !== build;
}
