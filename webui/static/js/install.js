// Brings a build onto the phone: file by file, each checked against its hash before it is stored, so that a cut line
// costs one file. Ready is said only when everything is there.
import { sha256 } from "./ids.js";

const TYPES = {
  css: "text/css; charset=utf-8",
  js: "text/javascript; charset=utf-8",
  mjs: "text/javascript; charset=utf-8",
  json: "application/json",
  png: "image/png",
  svg: "image/svg+xml",
  wasm: "application/wasm",
  zip: "application/zip",
};
const FILE_MS = 120_000;
const ASK_MS = 15_000;
const PREFIX = "dewbook-";

/**
 * @typedef {{name: string, file: string, sha256: string, bytes: number, brotli: number, phone: boolean}} File
 * @typedef {{app: string, build: string, files: File[], lock: object}} Manifest
 */

const address = (/** @type {File} */ file) => `/static/gen/${file.file}`;
const manifestAddress = (/** @type {string} */ build) => `/static/gen/manifest.${build}.json`;

/**
 * The manifest that the server has now. Throws where something else answers in its place.
 * @returns {Promise<Manifest>}
 */
export async function latest() {
  const response = await fetch("/static/gen/manifest.json", { cache: "no-store", signal: AbortSignal.timeout(ASK_MS) });
  const manifest = response.ok ? await response.json() : {};
  if (manifest.app !== "dewbook") throw new Error("another page answered in the office's place");
  return manifest;
}

/**
 * The manifest of a build that is on this phone.
 * @param {string} build
 * @returns {Promise<Manifest | undefined>}
 */
export async function stored(build) {
  const response = await caches.match(manifestAddress(build));
  return response?.json();
}

/**
 * Fetch what is missing of a build. Throws at the first file that does not come whole; what came stays.
 * @param {Manifest} manifest
 * @param {(part: number) => void} progress told the part that is there, 0 to 1
 */
export async function install(manifest, progress) {
  const cache = await caches.open(PREFIX + manifest.build);
  const files = manifest.files.filter((file) => file.phone);
  const whole = files.reduce((sum, file) => sum + file.brotli, 0);
  let there = 0;
  for (const file of files) {
    if (!(await cache.match(address(file)))) await cache.put(address(file), await verified(file));
    there += file.brotli;
    progress(there / whole);
  }
  await cache.put("/shell", await shellOf(manifest));
  const headers = { "Content-Type": TYPES.json };
  await cache.put(manifestAddress(manifest.build), new Response(JSON.stringify(manifest), { headers }));
}

/**
 * A file as the manifest says it is, from another build on this phone or from the server.
 * @param {File} file
 */
async function verified(file) {
  const kept = await caches.match(address(file));
  for (const source of [async () => kept, () => fetched(file, "default"), () => fetched(file, "reload")]) {
    const response = await source();
    if (!response) continue;
    const content = await response.arrayBuffer();
    if (content.byteLength === file.bytes && (await sha256(content)) === file.sha256) {
      return new Response(content, { headers: headersOf(response, file) });
    }
  }
  throw new Error(`${file.name} did not arrive whole`);
}

/**
 * @param {File} file
 * @param {RequestCache} cache
 */
async function fetched(file, cache) {
  const response = await fetch(address(file), { cache, signal: AbortSignal.timeout(FILE_MS) });
  return response.ok ? response : undefined;
}

/**
 * The policy that came with a file binds the worker made from it, so it is kept; the type is known better here.
 * @param {Response} response
 * @param {File} file
 */
function headersOf(response, file) {
  const headers = new Headers({ "Content-Type": TYPES[file.file.split(".").pop() ?? ""] ?? "application/octet-stream" });
  const policy = response.headers.get("Content-Security-Policy");
  if (policy) headers.set("Content-Security-Policy", policy);
  return headers;
}

/**
 * The shell of the same build.
 * @param {Manifest} manifest
 */
async function shellOf(manifest) {
  const response = await fetch("/shell", { cache: "no-store", signal: AbortSignal.timeout(ASK_MS) });
  const text = await response.clone().text();
  if (!response.ok || !text.includes(`data-build="${manifest.build}"`)) throw new Error("the shell is of another build");
  return response;
}

/**
 * Delete builds other than the one in force, once it has shown a page and the office has none that is newer.
 * @param {string} build
 */
export async function sweep(build) {
  const names = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== PREFIX + build);
  await Promise.all(names.map((name) => caches.delete(name)));
}
