// Entries on this phone: stored byte for byte, found by subject. Both the engine's worker and the page open it.
import { sha256 } from "./ids.js";
import { done, got, open } from "./database.js";

/**
 * @typedef {{id: string, subject: string, touches: string[], subject_kind: string, local: number, number?: number,
 *   text: string}} Row
 * @typedef {{device: string, seq: number, prev: string}} Head
 * @typedef {[kind: string, id: string]} Subject
 */

/**
 * @param {string} name
 * @returns {Promise<IDBDatabase>}
 */
export function openBook(name) {
  return open(name, (database) => {
    const entries = database.createObjectStore("entries", { keyPath: "id" });
    entries.createIndex("subject", "subject");
    entries.createIndex("kind", "subject_kind");
    entries.createIndex("local", "local", { unique: true });
    database.createObjectStore("outbox", { keyPath: "id" }).createIndex("local", "local");
    database.createObjectStore("head");
    database.createObjectStore("meta");
  });
}

/**
 * A row for an entry's text. The text itself is never rewritten.
 * @param {string} text
 * @param {number} local
 * @returns {Row}
 */
export function rowOf(text, local) {
  const entry = JSON.parse(text);
  const names = [entry.subject, ...entry.touches].map(([kind, id]) => `${kind}:${id}`);
  return { id: entry.id, subject: names[0], touches: names.slice(1), subject_kind: entry.subject[0], local, text };
}

/**
 * The highest local number given so far; to be called inside a transaction on entries.
 * @param {IDBObjectStore} entries
 * @returns {Promise<number>}
 */
export async function lastLocal(entries) {
  const cursor = await got(entries.index("local").openKeyCursor(null, "prev"));
  return cursor ? Number(cursor.key) : 0;
}

/**
 * Texts of the entries about some subjects, and of every subject of some kinds.
 * @param {IDBDatabase} book
 * @param {{subjects: Subject[], kinds: string[]}} need
 */
export async function load(book, need) {
  const entries = book.transaction("entries").objectStore("entries");
  const bySubject = need.subjects.map(([kind, id]) => got(entries.index("subject").getAll(`${kind}:${id}`)));
  const byKind = need.kinds.map((kind) => got(entries.index("kind").getAll(kind)));
  const [subjects, kinds] = [await Promise.all(bySubject), await Promise.all(byKind)];
  return {
    subjects: need.subjects.map(([kind, id], place) => [kind, id, subjects[place].map((row) => row.text)]),
    kinds: need.kinds.map((kind, place) => [kind, grouped(kinds[place])]),
  };
}

/**
 * @param {Row[]} rows
 * @returns {[string, string[]][]} [id of the subject, its texts]
 */
function grouped(rows) {
  const groups = new Map();
  for (const row of rows) {
    const id = row.subject.slice(row.subject_kind.length + 1);
    if (!groups.has(id)) groups.set(id, []);
    groups.get(id).push(row.text);
  }
  return [...groups];
}

/**
 * Subjects with entries that came after a local number, and the number to ask with next time.
 * @param {IDBDatabase} book
 * @param {number} seen
 * @returns {Promise<{subjects: Subject[], last: number}>}
 */
export async function changedSince(book, seen) {
  const entries = book.transaction("entries").objectStore("entries");
  if ((await lastLocal(entries)) === seen) return { subjects: [], last: seen };
  const rows = await got(entries.index("local").getAll(IDBKeyRange.lowerBound(seen, true)));
  const names = new Set(rows.map((row) => row.subject));
  return {
    subjects: [...names].map((name) => /** @type {Subject} */ (name.split(":"))),
    last: rows.length ? rows[rows.length - 1].local : seen,
  };
}

/**
 * Where the pen stands.
 * @param {IDBDatabase} book
 * @returns {Promise<Head | undefined>}
 */
export const head = (book) => got(book.transaction("head").objectStore("head").get("pen"));

/**
 * Keep new entries: they, their place in the outbox and the new head go to the disk together or not at all.
 * @param {IDBDatabase} book
 * @param {string[]} texts
 * @param {Head} before the head they were made with
 * @returns {Promise<"kept" | "already" | "moved">} already: this very submission was kept before; moved: another
 *   tab wrote in between, so that they have to be made again
 */
export async function keep(book, texts, before) {
  const after = { ...before, seq: before.seq + texts.length, prev: await sha256(bytes(texts[texts.length - 1])) };
  const transaction = book.transaction(["entries", "outbox", "head"], "readwrite", { durability: "strict" });
  const finished = done(transaction);
  const entries = transaction.objectStore("entries");
  const outcome = await written(transaction, entries, texts, before, after);
  if (outcome !== "kept") {
    transaction.abort();
    await finished.catch(() => {});
    return outcome;
  }
  await finished;
  return "kept";
}

/**
 * @param {IDBTransaction} transaction
 * @param {IDBObjectStore} entries
 * @param {string[]} texts
 * @param {Head} before
 * @param {Head} after
 * @returns {Promise<"kept" | "already" | "moved">}
 */
async function written(transaction, entries, texts, before, after) {
  const heads = transaction.objectStore("head");
  const now = await got(heads.get("pen"));
  const first = rowOf(texts[0], 0);
  if (await got(entries.getKey(first.id))) return "already";
  if (!now || now.device !== before.device || now.seq !== before.seq) return "moved";
  let local = await lastLocal(entries);
  for (const text of texts) {
    local += 1;
    const row = rowOf(text, local);
    entries.add(row);
    transaction.objectStore("outbox").add({ id: row.id, local });
  }
  heads.put(after, "pen");
  return "kept";
}

/** @param {string} text */
const bytes = (text) => new TextEncoder().encode(text);
