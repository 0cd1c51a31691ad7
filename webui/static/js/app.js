// What every page starts: the seam, the sync, and, once this phone is registered, the engine and its files.
import { Engine } from "./bridge.js";
import { databaseOf, ready as readyHere, setReady, signedOut } from "./here.js";
import htmx from "./htmx.js";
import { install, latest, stored, sweep } from "./install.js";
import { unsent } from "./outbox.js";
import { startReading } from "./reading.js";
import { fetchNewer, register, takeOver } from "./registration.js";
import { asksByItself, isDesk, sew } from "./seam.js";
import { saveToFile, sentences, show } from "./status.js";
import { offsetMinutes } from "./surroundings.js";
import { Sync } from "./sync.js";
import { bringBack, putAside } from "./typed.js";

const UPDATE_MS = 3_600_000;
const MISSING_MS = 30_000; // while there is no book on this phone yet
const root = document.documentElement;
const isShell = document.querySelector("[data-shell]") !== null;
const channel = new BroadcastChannel("dewbook");
/** @type {{fault: any, progress: number | null, ready: any, offered: string, dirty: boolean}} */
const facts = { fault: null, progress: null, ready: undefined, offered: "", dirty: false };

const engine = new Engine(tell);
const sync = new Sync(root.dataset.build ?? "", tell, arrived);

function tell() {
  const { fault, progress, ready } = facts;
  const deeds = [];
  if (sync.state.trouble === "sign_in" || fault?.code === "sign_in") deeds.push({ text: "Sign in", href: "/sign-in" });
  if (facts.offered) deeds.push({ text: "A new version is here: update now", act: update });
  const stuck = engine.state === "failed" && sync.state.waiting && sync.state.trouble;
  if (stuck) deeds.push({ text: "Save unsent to a file", act: async () => saveToFile(await unsent(sync.book)) });
  show(sentences({ fault, progress, engine, sync: sync.state, ready: Boolean(ready) }), deeds);
  Object.assign(root.dataset, {
    engine: engine.state,
    reason: engine.reason,
    starts: engine.starts,
    waiting: sync.state.waiting,
    trouble: sync.state.trouble,
    ready: ready?.build ?? "",
    offered: facts.offered,
  });
}

/** Start the engine from the files of a build that is on this phone. */
async function startEngine(build) {
  const manifest = await stored(build);
  if (!manifest || !sync.person) return;
  await engine.start({ person: sync.person, build, database: databaseOf(sync.person), manifest });
}

/** @type {Promise<void> | null} */
let bringing = null;

/** Bring the office's present build here; put it into force if there is none yet, else offer it. */
const bring = () => (bringing ??= brought().finally(() => (bringing = null)));

async function brought() {
  if (!sync.state.pulled && !facts.ready) return; // the first build counts only with what its person carries
  try {
    const manifest = await latest();
    if (manifest.build === facts.ready?.build) {
      facts.offered = ""; // what was offered has been withdrawn
      const ofOthers = (await readyHere())?.build !== manifest.build; // another tab went on to a newer one
      if (engine.state === "ready" && !ofOthers) await sweep(manifest.build);
    } else if (manifest.build !== facts.offered) {
      await install(manifest, (part) => {
        facts.progress = part;
        tell();
      });
      facts.progress = null;
      if (facts.ready) await offer(manifest.build);
      else await putIntoForce(manifest.build);
    }
  } catch (error) {
    console.info("the book is not whole on this phone yet:", String(error));
  }
  tell();
}

/** @param {string} build */
async function offer(build) {
  await fetchNewer(); // so that its service worker waits as well
  facts.offered = build;
}

/** @param {string} build */
async function putIntoForce(build) {
  if (root.dataset.build !== build) return; // this page is of another build; its next load brings the right one
  if (engine.state === "off") await startEngine(build);
  if (engine.state !== "ready" || !sync.person) return;
  await setReady({ build, person: sync.person.id });
  facts.ready = await readyHere();
}

/** Only ever at the person's word. */
async function update() {
  if (!sync.person) return;
  await setReady({ build: facts.offered, person: sync.person.id });
  await takeOver();
  channel.postMessage({ updated: facts.offered });
  reload();
}

/** Begin anew in the build in force, with what is typed here carried over. */
function reload() {
  putAside();
  location.reload();
}

/** @param {string[]} subjects that others wrote about */
function arrived(subjects) {
  channel.postMessage({ arrived: subjects });
  refresh();
}

/** Show the present page anew, unless somebody is at work in it. */
function refresh() {
  const busy = facts.dirty || document.activeElement?.closest?.("#desk form");
  if (busy || engine.state !== "ready" || !isDesk(location.pathname)) return;
  open(location.pathname + location.search, "innerMorph");
}

/**
 * @param {string} address
 * @param {string} [swap]
 */
const open = (address, swap = "innerHTML") => htmx.ajax("GET", address, { target: "#desk", swap });

function watchPages() {
  sew(htmx, engine);
  document.addEventListener("htmx:before:history:restore", (event) => {
    event.preventDefault(); // htmx would fetch and replace the whole body; the desk is enough
    open(location.pathname + location.search);
  });
  document.addEventListener("htmx:error", ({ detail }) => {
    if (asksByItself(detail.ctx?.sourceElement)) return; // it asks again, and the line says what ails the signal
    facts.fault = { code: detail.error?.code ?? detail.error?.name ?? "", text: String(detail.error?.message ?? "") };
    tell();
  });
  document.addEventListener("htmx:after:swap", ({ detail }) => {
    facts.fault = null;
    if (detail.ctx?.target?.id === "desk") swapped(detail.ctx);
    tell();
  });
  document.addEventListener("input", ({ target }) => {
    if (target instanceof Element && target.closest("#desk form")) facts.dirty = true;
  });
  document.addEventListener("submit", (event) => {
    const form = /** @type {HTMLFormElement} */ (event.target);
    if (new URL(form.action, location.href).pathname !== "/sign-out") return;
    event.preventDefault();
    signedOut().finally(() => form.submit());
  }, { capture: true });
}

/** A page of the desk was put in. */
function swapped({ swap }) {
  facts.dirty = document.querySelector("#desk [aria-invalid='true']") !== null; // refused as typed: still at work
  if (!String(swap).startsWith("innerMorph")) startReading();
}

async function main() {
  document.cookie = `dewbook_offset=${offsetMinutes()}; path=/; SameSite=Lax; max-age=31536000`;
  watchPages();
  register(bring).catch((error) => console.info(String(error)));
  channel.onmessage = ({ data }) => {
    if (data.updated) reload();
    if (data.arrived) refresh();
    if (data.written) sync.now();
  };
  facts.ready = await readyHere();
  const started = sync.start();
  if (facts.ready) await beginHere();
  bringBack();
  await started;
  if (isShell && !facts.ready) await open(location.pathname + location.search);
  await bring();
  for (const happening of ["online", "visibilitychange"]) addEventListener(happening, () => setTimeout(bring, 1000));
  lookAgain();
}

/** Look for a new build from time to time. */
function lookAgain() {
  setTimeout(() => bring().finally(lookAgain), facts.ready ? UPDATE_MS : MISSING_MS);
}

/** A page of the build in force works from this phone; one of another build, fresh from the office, does not mix. */
async function beginHere() {
  while (!sync.person) await new Promise((resolve) => setTimeout(resolve, 20));
  if (isShell) {
    await startEngine(facts.ready.build);
    await open(location.pathname + location.search);
  } else if (isDesk(location.pathname) && root.dataset.build === facts.ready.build) {
    await startEngine(facts.ready.build);
  }
}

await main();
