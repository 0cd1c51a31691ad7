// The engine: a worker that holds Pyodide with the desk, and answers the page's requests from what is stored here.
// Entries are on the disk before the answer that made them is given back.
import { newId } from "./ids.js";
import { changedSince, head, keep, load, openBook } from "./store.js";
import { offsetMinutes } from "./surroundings.js";

const MOST_ROUNDS = 3;
const MOST_REDIRECTS = 3;
const MOST_TRIES = 3;
const IDS_AT_HAND = 16;
const EMPTY_WASM = Uint8Array.of(0, 97, 115, 109, 1, 0, 0, 0);

/** An error with a code that the page turns into a sentence. */
class Trouble extends Error {
  /**
   * @param {string} code
   * @param {unknown} cause
   */
  constructor(code, cause) {
    super(String(cause), { cause });
    this.code = code;
  }
}

/** @type {(text: string) => string} */
let python;
/** @type {IDBDatabase} */
let book;
/** @type {Record<string, unknown>} */
let session = {};
let seen = 0;
const announce = new BroadcastChannel("dewbook");

/** @param {Record<string, unknown>} call */
const step = (call) => JSON.parse(python(JSON.stringify(call)));

/**
 * @param {{person: object, build: string, database: string, manifest: any}} given
 */
async function start({ person, build, database, manifest }) {
  if (typeof WebAssembly !== "object") throw new Trouble("no_wasm", "this browser has no WebAssembly");
  try {
    new WebAssembly.Module(EMPTY_WASM); // loadPyodide would wait for ever where this is forbidden
  } catch (error) {
    throw new Trouble("blocked_wasm", error);
  }
  const address = (name) => `/static/gen/${manifest.files.find((file) => file.name === name).file}`;
  const core = new URL(address("pyodide/pyodide.mjs"), location.origin);
  try {
    const app = fetched(address("app.zip"));
    const { loadPyodide } = await import(core.href);
    const pyodide = await loadPyodide({
      indexURL: new URL(".", core).href,
      stdLibURL: new URL(address("python_stdlib.zip"), location.origin).href,
      lockFileContents: manifest.lock,
      env: { HOME: "/" },
    });
    pyodide.FS.writeFile("/app.zip", await app);
    python = pyodide.runPython("import sys\nsys.path.insert(0, '/app.zip')\nfrom webui.engine import step\nstep");
  } catch (error) {
    throw new Trouble("no_start", error);
  }
  book = await openBook(database);
  session = { person, build };
  seen = 0;
  step({ op: "start", manifest });
  return {};
}

/**
 * @param {string} address
 * @returns {Promise<Uint8Array>}
 */
async function fetched(address) {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${address}: ${response.status}`);
  return new Uint8Array(await response.arrayBuffer());
}

/**
 * Ask the desk, loading what it says it needs.
 * @param {Record<string, unknown>} request
 */
async function ask(request) {
  const { subjects, last } = await changedSince(book, seen); // another tab or the sync may have written
  if (subjects.length) step({ op: "forget", subjects });
  seen = last;
  for (let round = 0; round <= MOST_ROUNDS; round += 1) {
    const { page, need } = step({ op: "ask", request });
    if (page) return page;
    step({ op: "load", ...(await load(book, need)) });
  }
  throw new Trouble("rounds", `${request.path} asked for more than ${MOST_ROUNDS} loads`);
}

/**
 * Ask with the pen in hand and keep what was written, before anybody sees the page.
 * @param {Record<string, unknown>} request
 */
async function write(request) {
  for (let attempt = 0; attempt < MOST_TRIES; attempt += 1) {
    const before = await head(book);
    if (!before) throw new Trouble("no_pen", "this phone has not been registered yet");
    const ids = Array.from({ length: IDS_AT_HAND }, newId);
    const page = await ask({ ...request, pen: { ...before, seq: before.seq + 1, ids } });
    if (!page.entries.length) return page;
    const outcome = await keep(book, page.entries, before);
    if (outcome === "moved") continue;
    if (outcome === "kept") announce.postMessage({ written: page.entries.length });
    return page;
  }
  throw new Trouble("pen", "another tab kept writing; nothing of this was kept");
}

/**
 * Answer a request of the page, following the desk's own redirects.
 * @param {{method: string, path: string, query: object, form: [string, string][], kind: string, target: string,
 *   online: boolean, units: string}} asked
 */
async function answer(asked) {
  let request = { ...asked };
  let pushed = "";
  for (let hop = 0; hop <= MOST_REDIRECTS; hop += 1) {
    const whole = { ...session, ...moment(), ...request, language: "en", host: "phone" };
    const { writes } = step({ op: "plan", method: request.method, path: request.path });
    const page = await (writes ? navigator.locks.request("dewbook-pen", () => write(whole)) : ask(whole));
    if (page.status !== 303) {
      const headers = pushed && !page.headers["HX-Push-Url"] ? { ...page.headers, "HX-Push-Url": pushed } : page.headers;
      return { page: { status: page.status, html: page.html, headers } };
    }
    const next = new URL(page.headers.Location, location.origin);
    pushed = next.pathname + next.search;
    const query = Object.fromEntries(next.searchParams);
    request = { ...asked, method: "GET", path: next.pathname, query, form: [] };
  }
  throw new Trouble("redirects", `${asked.path} sent on more than ${MOST_REDIRECTS} times`);
}

/** The time, as data: Python on the phone knows no zone. */
function moment() {
  const now = new Date();
  return { now: `${now.toISOString().slice(0, 19)}Z`, offset_minutes: offsetMinutes() };
}

const OPS = { start, answer, ping: async () => ({}), forget: async ({ subjects }) => step({ op: "forget", subjects }) };
let turn = Promise.resolve();

onmessage = ({ data }) => {
  turn = turn.then(async () => {
    const { id, op, ...rest } = JSON.parse(data);
    try {
      postMessage(JSON.stringify({ id, ok: true, ...(await OPS[op](rest)) }));
    } catch (error) {
      console.error(error);
      const code = error.code && typeof error.code === "string" ? error.code : error.name || "python";
      postMessage(JSON.stringify({ id, ok: false, error: { code, text: lastLine(error) } }));
    }
  });
};

/** @param {Error} error */
const lastLine = (error) => String(error.message ?? error).trim().split("\n").pop();
