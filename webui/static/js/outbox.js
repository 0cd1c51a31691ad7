// What the server has not acknowledged by name, and what it sends. Nothing leaves the outbox but on its own name.
import { done, got } from "./database.js";
import { lastLocal, rowOf } from "./store.js";

const MOST_ENTRIES = 200;
const MOST_BYTES = 200_000; // the door takes 256 kB

/**
 * @typedef {{waiting: number, refused: {id: string, code: string, why: string}[]}} Count
 */

/**
 * The next entries to send, oldest first.
 * @param {IDBDatabase} book
 * @returns {Promise<string[]>} their texts
 */
export async function batch(book) {
  const transaction = book.transaction(["outbox", "entries"]);
  const waiting = await got(transaction.objectStore("outbox").index("local").getAll());
  const texts = [];
  let size = 0;
  for (const one of waiting.filter((item) => !item.refused).slice(0, MOST_ENTRIES)) {
    const row = await got(transaction.objectStore("entries").get(one.id));
    size += row.text.length * 3; // at most three bytes a character of UTF-16
    if (texts.length && size > MOST_BYTES) break;
    texts.push(row.text);
  }
  return texts;
}

/**
 * @param {IDBDatabase} book
 * @returns {Promise<Count>}
 */
export async function count(book) {
  const items = await got(book.transaction("outbox").objectStore("outbox").getAll());
  const refused = items.filter((item) => item.refused).map((item) => ({ id: item.id, ...item.refused }));
  return { waiting: items.length - refused.length, refused };
}

/**
 * Texts of everything unsent, refused ones too.
 * @param {IDBDatabase} book
 * @returns {Promise<string[]>}
 */
export async function unsent(book) {
  const transaction = book.transaction(["outbox", "entries"]);
  const items = await got(transaction.objectStore("outbox").index("local").getAll());
  const rows = await Promise.all(items.map((item) => got(transaction.objectStore("entries").get(item.id))));
  return rows.map((row) => row.text);
}

/**
 * Take the server's word on a batch: accepted ones have their number, refused ones stay with the reason.
 * @param {IDBDatabase} book
 * @param {{accepted: {id: string, number: number}[], refused: {id: string, code: string, why: string}[]}} answer
 */
export async function settle(book, answer) {
  const transaction = book.transaction(["outbox", "entries"], "readwrite", { durability: "strict" });
  const finished = done(transaction);
  const [outbox, entries] = [transaction.objectStore("outbox"), transaction.objectStore("entries")];
  for (const { id, number } of answer.accepted) {
    const row = await got(entries.get(id));
    if (row) entries.put({ ...row, number });
    outbox.delete(id);
  }
  for (const { id, code, why } of answer.refused) {
    const item = await got(outbox.get(id));
    if (item) outbox.put({ ...item, refused: { code, why } });
  }
  await finished;
}

/**
 * Offer everything refused once more, as at a new sign-in: what stood in its way may be gone.
 * @param {IDBDatabase} book
 */
export async function offerAgain(book) {
  const transaction = book.transaction("outbox", "readwrite");
  const finished = done(transaction);
  const outbox = transaction.objectStore("outbox");
  for (const { refused, ...item } of await got(outbox.getAll())) {
    if (refused) outbox.put(item);
  }
  await finished;
}

/**
 * A server of another epoch has been restored from a copy: offer it all that this person wrote here, and read anew.
 * @param {IDBDatabase} book
 * @param {string} person
 * @param {string} epoch
 */
export async function startOver(book, person, epoch) {
  const transaction = book.transaction(["outbox", "entries", "meta"], "readwrite", { durability: "strict" });
  const finished = done(transaction);
  const outbox = transaction.objectStore("outbox");
  for (const row of await got(transaction.objectStore("entries").getAll())) {
    if (JSON.parse(row.text).by === person) outbox.put({ id: row.id, local: row.local });
  }
  transaction.objectStore("meta").put({ epoch, after: 0 }, "cursor");
  transaction.objectStore("meta").put([], "carry");
  await finished;
}

/**
 * Store what a pull brought, together with the place to go on from.
 * @param {IDBDatabase} book
 * @param {{epoch: string, after: number, entries: {number: number, text: string}[], carry: [string, string][]}} answer
 * @returns {Promise<string[]>} the subjects that got something new
 */
export async function take(book, answer) {
  const transaction = book.transaction(["entries", "meta"], "readwrite", { durability: "strict" });
  const finished = done(transaction);
  const entries = transaction.objectStore("entries");
  const changed = new Set();
  let local = await lastLocal(entries);
  for (const { number, text } of answer.entries) {
    const row = rowOf(text, local + 1);
    const known = await got(entries.get(row.id));
    if (known) {
      if (known.number !== number) entries.put({ ...known, number });
      continue;
    }
    local += 1;
    entries.add({ ...row, number });
    changed.add(row.subject);
  }
  transaction.objectStore("meta").put({ epoch: answer.epoch, after: answer.after }, "cursor");
  transaction.objectStore("meta").put(answer.carry, "carry");
  await finished;
  return [...changed];
}
