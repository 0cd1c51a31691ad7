// The page's side of the engine: starts the worker, gives each call its time, says in a word how it stands.

const FIRST_ANSWER_MS = 10_000; // after this the page says so and goes on without; a late engine is still welcome
const GIVE_UP_MS = 60_000;
const CALL_MS = 10_000;

/**
 * @typedef {"off" | "starting" | "late" | "ready" | "failed"} State
 * @typedef {{person: object, build: string, database: string, manifest: object}} Session
 */

/** What the engine could not do; code as in engine.js, or dead_worker, slow_start, too_long, off. */
export class EngineTrouble extends Error {
  /**
   * @param {string} code
   * @param {string} text
   */
  constructor(code, text) {
    super(text);
    this.code = code;
  }
}

export class Engine {
  /** @type {State} */
  state = "off";
  /** why it failed or is late: a code */
  reason = "";
  starts = 0;
  /** @type {Worker | null} */
  #worker = null;
  /** @type {Map<number, {resolve: Function, reject: Function, timer: number}>} */
  #calls = new Map();
  #last = 0;
  /** @type {Session | null} */
  #session = null;
  /** @type {() => void} */
  #changed;
  /** Resolves when it is known whether pages can be asked for here: ready, failed or late. */
  settled = Promise.resolve();

  /** @param {() => void} changed called whenever state or reason changes */
  constructor(changed) {
    this.#changed = changed;
  }

  /**
   * Start the worker for a session; never throws, see state and reason.
   * @param {Session} session
   * @returns {Promise<void>} as settled
   */
  start(session) {
    this.#session = session;
    this.#set("starting");
    this.settled = new Promise((resolve) => {
      const late = setTimeout(() => {
        this.#set("late", "slow_start");
        resolve();
      }, FIRST_ANSWER_MS);
      this.#begin(session)
        .then(() => this.#set("ready"))
        .catch((error) => this.#fail(error))
        .finally(() => {
          clearTimeout(late);
          resolve();
        });
    });
    return this.settled;
  }

  /** @param {Session} session */
  async #begin(session) {
    if (typeof WebAssembly !== "object") throw new EngineTrouble("no_wasm", "this browser has no WebAssembly");
    this.starts += 1;
    const worker = new Worker(new URL("./engine.js", import.meta.url), { type: "module", name: "dewbook-engine" });
    this.#worker = worker;
    worker.onmessage = ({ data }) => this.#answered(JSON.parse(data));
    worker.onerror = (event) => {
      event.preventDefault();
      this.#fail(new EngineTrouble("dead_worker", event.message || "the worker could not be loaded"));
    };
    await this.#call("start", { ...session }, GIVE_UP_MS);
  }

  /**
   * Ask the desk for a page.
   * @param {object} request as in engine.js
   * @returns {Promise<{status: number, html: string, headers: Record<string, string>}>}
   */
  async answer(request) {
    if (this.state !== "ready") throw new EngineTrouble("off", "the engine is not running");
    const { page } = await this.#call("answer", request, CALL_MS);
    return page;
  }

  /** End the worker; calls under way are refused. */
  stop() {
    this.#end(new EngineTrouble("off", "the engine was ended"));
    this.#set("off");
  }

  /**
   * @param {string} op
   * @param {object} rest
   * @param {number} limit
   * @returns {Promise<any>}
   */
  #call(op, rest, limit) {
    return new Promise((resolve, reject) => {
      const id = (this.#last += 1);
      const timer = setTimeout(() => this.#overdue(op), limit);
      this.#calls.set(id, { resolve, reject, timer });
      this.#worker?.postMessage(JSON.stringify({ ...rest, id, op }));
    });
  }

  /** @param {{id: number, ok: boolean, error?: {code: string, text: string}}} message */
  #answered(message) {
    const call = this.#calls.get(message.id);
    if (!call) return;
    this.#calls.delete(message.id);
    clearTimeout(call.timer);
    if (message.ok) call.resolve(message);
    else call.reject(new EngineTrouble(message.error?.code ?? "python", message.error?.text ?? ""));
  }

  /**
   * A call that takes too long cannot be interrupted, only its worker ended. Entries are either on the disk or were
   * never shown as kept, so nothing is lost by that.
   * @param {string} op
   */
  #overdue(op) {
    this.#fail(new EngineTrouble(op === "start" ? "slow_start" : "too_long", `no answer to ${op}`));
    if (op !== "start" && this.#session) this.start(this.#session);
  }

  /** @param {unknown} error */
  #fail(error) {
    const code = error instanceof EngineTrouble ? error.code : "dead_worker";
    this.#end(error);
    this.#set("failed", code);
  }

  /** @param {unknown} error */
  #end(error) {
    this.#worker?.terminate();
    this.#worker = null;
    for (const call of this.#calls.values()) {
      clearTimeout(call.timer);
      call.reject(error);
    }
    this.#calls.clear();
  }

  /**
   * @param {State} state
   * @param {string} [reason]
   */
  #set(state, reason = "") {
    this.state = state;
    this.reason = reason;
    this.#changed();
  }
}
