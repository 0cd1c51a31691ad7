// IndexedDB as promises. A transaction never spans an await of anything but its own requests.

/**
 * Open a database, making its stores when it is new. When another tab needs a newer version, this one lets go.
 * @param {string} name
 * @param {(database: IDBDatabase) => void} make
 * @returns {Promise<IDBDatabase>}
 */
export function open(name, make) {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(name, 1);
    request.onupgradeneeded = () => make(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new DOMException("another tab holds an older version open", "BlockedError"));
    request.onsuccess = () => {
      const database = request.result;
      database.onversionchange = () => database.close();
      resolve(database);
    };
  });
}

/**
 * The result of one request.
 * @template T
 * @param {IDBRequest<T>} request
 * @returns {Promise<T>}
 */
export function got(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/**
 * Resolves when a transaction is on the disk, rejects when none of it is.
 * @param {IDBTransaction} transaction
 * @returns {Promise<void>}
 */
export function done(transaction) {
  const finished = new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve(undefined);
    transaction.onabort = () => reject(transaction.error ?? new DOMException("taken back", "AbortError"));
  });
  finished.catch(() => {}); // whoever made the transaction may first see the error of one of its requests
  return finished;
}
