// The small database `dewbook`: who is signed in on this phone, and which build is verified and filled for them.
// The service worker reads the same two rows.
import { done, got, open } from "./database.js";

/**
 * @typedef {{id: string, name: string, company: string, company_name: string, role: string}} Person
 * @typedef {{build: string, person: string}} Ready
 */

/** @type {Promise<IDBDatabase> | null} */
let opened = null;

/** @returns {Promise<IDBDatabase>} */
function here() {
  opened ??= open("dewbook", (database) => database.createObjectStore("meta"));
  return opened;
}

/**
 * @param {string} name
 * @returns {Promise<any>}
 */
async function read(name) {
  const database = await here();
  return got(database.transaction("meta").objectStore("meta").get(name));
}

/**
 * @param {Record<string, unknown>} rows undefined removes a row
 */
async function write(rows) {
  const database = await here();
  const transaction = database.transaction("meta", "readwrite", { durability: "strict" });
  for (const [name, value] of Object.entries(rows)) {
    if (value === undefined) transaction.objectStore("meta").delete(name);
    else transaction.objectStore("meta").put(value, name);
  }
  await done(transaction);
}

/** @returns {Promise<Person | undefined>} */
export const person = () => read("person");

/** @returns {Promise<Ready | undefined>} the build this person can work with offline, if any */
export async function ready() {
  const [who, what] = [await person(), await read("ready")];
  return who && what && what.person === who.id ? what : undefined;
}

/** @param {Person} who */
export const signedIn = (who) => write({ person: who });

/** From now on no page opens offline; what is unsent stays in its person's own database. */
export const signedOut = () => write({ person: undefined, ready: undefined });

/** @param {Ready} what */
export const setReady = (what) => write({ ready: what });

/**
 * The name of a person's own database.
 * @param {Person} who
 * @returns {string}
 */
export const databaseOf = (who) => `dewbook:${who.company}:${who.id}`;
