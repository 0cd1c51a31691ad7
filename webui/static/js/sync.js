// Sends what waits and fetches what the others wrote. Needs no Python: entries are finished texts. An answer is
// believed only with the office's marker; an entry leaves the outbox only when the answer names it.
import { done, got } from "./database.js";
import { databaseOf, person as personHere, signedIn } from "./here.js";
import { batch, count, offerAgain, settle, startOver, take } from "./outbox.js";
import { openBook } from "./store.js";

const ANSWER_MS = 15_000;
const FIRST_WAIT_MS = 2_000;
const LONGEST_WAIT_MS = 120_000;
const BETWEEN_MS = 60_000; // a look at what the others wrote, while the page is shown

/** Why a round did not succeed: no_signal, stalled, portal, sign_in, busy, broken, or what the office says. */
export class SyncTrouble extends Error {
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
 * @param {string} door
 * @param {object} body
 * @param {string} device
 */
async function call(door, body, device) {
  let response;
  try {
    response = await fetch(`/sync/${door}`, {
      method: "POST",
      headers: { "Content-Type": "application/json", "Dewbook-Device": device },
      body: JSON.stringify(body),
      cache: "no-store",
      redirect: "manual",
      signal: AbortSignal.timeout(ANSWER_MS),
    });
    const ours = response.headers.get("Dewbook") === "sync";
    const json = (response.headers.get("Content-Type") ?? "").startsWith("application/json");
    if (response.status >= 500) throw new SyncTrouble(response.status === 500 ? "broken" : "busy");
    if (!ours || !json) throw new SyncTrouble("portal");
    const answer = await response.json();
    if (response.status === 401) throw new SyncTrouble("sign_in");
    if (!response.ok) throw new SyncTrouble(answer.error ?? "busy", answer.text);
    return answer;
  } catch (error) {
    if (error instanceof SyncTrouble) throw error;
    throw new SyncTrouble(error.name === "TimeoutError" ? "stalled" : "no_signal", String(error));
  }
}

/** The loop of one page. Of all pages only the one that holds the lock sends. */
export class Sync {
  state = { trouble: "", text: "", last: 0, waiting: 0, refused: [], pulled: false };
  /** @type {IDBDatabase | null} */
  book = null;
  /** @type {import("./here.js").Person | null} */
  person = null;
  #failures = 0;
  #timer = 0;
  #running = false;
  #again = false;
  #greeted = false;
  #build;
  #changed;
  #arrived;

  /**
   * @param {string} build
   * @param {() => void} changed called when the state changes
   * @param {(subjects: string[]) => void} arrived called with the subjects that others wrote about
   */
  constructor(build, changed, arrived) {
    this.#build = build;
    this.#changed = changed;
    this.#arrived = arrived;
  }

  /** Open this person's own database, if somebody has signed in here; then begin, and begin anew on every sign. */
  async start() {
    const who = await personHere();
    if (who) await this.#become(who);
    addEventListener("online", () => this.now());
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && this.now());
    await this.now();
  }

  /** Try now; a round under way is followed by another. */
  async now() {
    clearTimeout(this.#timer);
    if (this.#running) {
      this.#again = true;
      return;
    }
    this.#running = true;
    do {
      this.#again = false;
      await navigator.locks.request("dewbook-sync", () => this.#round());
    } while (this.#again);
    this.#running = false;
    this.#timer = setTimeout(() => this.now(), this.#pause());
  }

  /** Count what waits again, as after a write. */
  async recount() {
    if (this.book) Object.assign(this.state, await count(this.book));
    this.#changed();
  }

  /** Full jitter: phones that lost the office together do not come back together. */
  #pause() {
    if (!this.#failures) return BETWEEN_MS;
    return 500 + Math.random() * Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** this.#failures);
  }

  async #round() {
    try {
      if (!this.#greeted) await this.#greet();
      await this.#push();
      await this.#pull();
      this.#failures = 0;
      Object.assign(this.state, { trouble: "", text: "", last: Date.now(), pulled: true });
    } catch (error) {
      this.#failures += 1;
      if (error.code === "device") this.#greeted = false;
      Object.assign(this.state, { trouble: error.code ?? error.name, text: error.message });
    }
    await this.recount();
  }

  async #greet() {
    const before = this.book && (await got(this.book.transaction("head").objectStore("head").get("pen")));
    let answer = await call("hello", { device: before?.device ?? null, build: this.#build }, before?.device ?? "new");
    if (answer.person.id !== this.person?.id) {
      await this.#become(answer.person);
      const own = await got(this.book.transaction("head").objectStore("head").get("pen"));
      if (own) answer = await call("hello", { device: own.device, build: this.#build }, own.device);
    }
    await signedIn(answer.person);
    await this.#takePen(answer.device);
    await offerAgain(this.book);
    this.#greeted = true;
  }

  /** @param {import("./here.js").Person} who */
  async #become(who) {
    this.book?.close();
    this.person = who;
    this.book = await openBook(databaseOf(who));
    await this.recount();
  }

  /**
   * A device that the office does not know any more is followed by a new one, whose row of entries begins at 1.
   * @param {string} device
   */
  async #takePen(device) {
    const transaction = this.book.transaction("head", "readwrite", { durability: "strict" });
    const heads = transaction.objectStore("head");
    const now = await got(heads.get("pen"));
    if (now?.device !== device) heads.put({ device, seq: 0, prev: "" }, "pen");
    await done(transaction);
  }

  async #push() {
    for (let texts = await batch(this.book); texts.length; texts = await batch(this.book)) {
      const answer = await call("push", { entries: texts }, await this.#device());
      const named = answer.accepted.length + answer.refused.length;
      await settle(this.book, answer);
      await this.recount();
      if (!named) throw new SyncTrouble("busy", "the office named none of what was sent");
    }
  }

  async #pull() {
    for (let more = true; more; ) {
      const meta = this.book.transaction("meta").objectStore("meta");
      const [cursor, carry] = await Promise.all([got(meta.get("cursor")), got(meta.get("carry"))]);
      const asked = { epoch: cursor?.epoch ?? null, after: cursor?.after ?? 0, have: carry ?? [], want: [] };
      const answer = await call("pull", asked, await this.#device());
      if (cursor && answer.epoch !== cursor.epoch) await startOver(this.book, this.person.id, answer.epoch);
      const changed = await take(this.book, answer);
      if (changed.length) this.#arrived(changed);
      more = answer.more;
      if (cursor && answer.epoch !== cursor.epoch) await this.#push();
    }
  }

  async #device() {
    return (await got(this.book.transaction("head").objectStore("head").get("pen"))).device;
  }
}
