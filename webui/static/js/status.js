// The status line: what waits to be sent and why, how the engine stands, what the person can do about it.

/** @type {Record<string, string>} why something did not reach the office */
const LINE = {
  no_signal: "no signal",
  stalled: "the line is there, but the office does not answer",
  portal: "another page answers in the office's place; this network may want a sign-in of its own",
  sign_in: "you are signed out",
  busy: "the office is busy",
  broken: "the office has a fault of its own",
  device: "this phone has to be registered anew",
};

/** @type {Record<string, string>} why the book cannot be opened on this phone */
const ENGINE = {
  no_wasm: "this browser has no WebAssembly, or it is switched off",
  blocked_wasm: "something on the way or in this browser forbids WebAssembly",
  dead_worker: "its worker could not be started",
  slow_start: "it has not started within 10 seconds",
  no_start: "its files could not be read",
  too_long: "a page took too long and was ended",
};

/** @type {Record<string, string>} why a page was not shown */
const PAGE = {
  ...LINE,
  pen: "another tab kept writing",
  no_pen: "this phone has not been registered yet; that takes signal once",
  QuotaExceededError: "the storage of this phone is full",
};

/**
 * @param {string} code
 * @param {Record<string, string>} words
 * @param {string} [text]
 */
const because = (code, words, text) => words[code] ?? text ?? code;

/**
 * @param {number} count
 */
const entries = (count) => (count === 1 ? "1 entry waits" : `${count} entries wait`);

/**
 * The sentences of the line, most pressing first.
 * @param {{fault: {code: string, text: string} | null, engine: {state: string, reason: string}, sync: any,
 *   progress: number | null, ready: boolean}} facts
 * @returns {string[]}
 */
export function sentences({ fault, engine, sync, progress, ready }) {
  const said = [];
  if (fault) {
    const why = because(fault.code, PAGE, fault.text);
    said.push(`Not done: ${why}. What you typed is still here; nothing of it was kept.`);
  }
  if (engine.state === "failed" || engine.state === "late") {
    said.push(
      `The book cannot be opened on this phone now: ${because(engine.reason, ENGINE)}. ` +
        "With signal the pages come from the office.",
    );
  }
  if (sync.refused.length) {
    said.push(`The office did not take ${sync.refused.length}: ${sync.refused[0].why}. It stays on this phone.`);
  }
  if (sync.waiting) {
    const why = sync.trouble ? `: ${because(sync.trouble, LINE, sync.text)}` : "";
    said.push(`${entries(sync.waiting)} to be sent${why}.`);
  } else if (sync.trouble === "sign_in") {
    said.push("Signed out.");
  } else if (sync.trouble && ready) {
    said.push(`Nothing waits to be sent (${because(sync.trouble, LINE, sync.text)}).`);
  } else if (sync.last) {
    said.push(`All sent, ${new Date(sync.last).toTimeString().slice(0, 5)}.`);
  }
  if (progress !== null && !ready) said.push(`Bringing the book onto this phone: ${Math.floor(progress * 100)} %.`);
  else if (ready && !sync.waiting) said.push("The book is on this phone.");
  return said;
}

/**
 * Write the line where it differs from what stands there (each change is read aloud).
 * @param {string[]} said
 * @param {{text: string, href?: string, act?: () => void}[]} deeds
 */
export function show(said, deeds) {
  const line = document.getElementById("status");
  if (!line) return;
  const key = JSON.stringify([said, deeds.map((deed) => deed.text)]);
  if (line.dataset.said === key) return;
  line.dataset.said = key;
  line.replaceChildren(said.join(" "), ...deeds.flatMap((deed) => [" ", made(deed)]));
}

/** @param {{text: string, href?: string, act?: () => void}} deed */
function made({ text, href, act }) {
  const element = document.createElement(href ? "a" : "button");
  element.textContent = text;
  if (href) element.setAttribute("href", href);
  else element.setAttribute("type", "button");
  if (href) element.setAttribute("hx-boost", "false");
  if (act) element.addEventListener("click", act);
  return element;
}

/**
 * Hand over what is unsent as a file, for when neither engine nor line can be had.
 * @param {string[]} texts
 */
export function saveToFile(texts) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([`${texts.join("\n")}\n`], { type: "application/jsonl" }));
  link.download = "dewbook-unsent.jsonl";
  link.click();
  URL.revokeObjectURL(link.href);
}
