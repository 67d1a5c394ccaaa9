/** @typedef {(database: IDBDatabase, from: number) => void} Upgrade  brings a database of version `from` up to date */

/** Engines are known to leave a page waiting for its database for good (from memory). */
const PATIENCE_MS = 10_000;

/**
 * A database of the browser. It is opened when it is first asked for, and again where the browser closed it
 * meanwhile or could not open it before; whatever that broke off is done once more.
 */
export class Database {
  /**
   * @param {string} name
   * @param {number} version
   * @param {Upgrade} upgrade
   */
  constructor(name, version, upgrade) {
    this.name = name;
    this.version = version;
    this.upgrade = upgrade;
    /** The connection while it stands. @type {IDBDatabase | null} */
    this.connection = null;
    /** @type {Promise<IDBDatabase> | null} */
    this.opening = null;
  }

  /**
   * Does work in one transaction. Where the connection stands the work begins before this returns, so that it is
   * done also where the page ends a moment later.
   *
   * @template Value
   * @param {string | string[]} stores
   * @param {IDBTransactionMode} mode
   * @param {(transaction: IDBTransaction) => Value | Promise<Value>} work  done anew where it broke off
   * @returns {Promise<Value>}
   */
  async run(stores, mode, work) {
    try {
      return await within(this.connection ?? (await this.#open()), stores, mode, work);
    } catch (error) {
      if (isFull(error)) throw error;
      this.#close();
      return within(await this.#open(), stores, mode, work);
    }
  }

  #open() {
    this.opening ??= this.#opened().finally(() => {
      this.opening = null;
    });
    return this.opening;
  }

  async #opened() {
    const asked = indexedDB.open(this.name, this.version);
    asked.onupgradeneeded = ({ oldVersion }) => this.upgrade(asked.result, oldVersion);
    const connection = await inTime(asked);
    connection.onclose = () => this.#forget(connection);
    // A tab with a newer page must not wait for this one.
    connection.onversionchange = () => {
      connection.close();
      this.#forget(connection);
    };
    this.connection = connection;
    return connection;
  }

  #close() {
    this.connection?.close();
    this.connection = null;
  }

  /** @param {IDBDatabase} connection */
  #forget(connection) {
    if (this.connection === connection) this.connection = null;
  }
}

/** @param {IDBOpenDBRequest} asked  @returns {Promise<IDBDatabase>} rejects where no answer comes */
function inTime(asked) {
  return new Promise((resolve, reject) => {
    const waiting = setTimeout(() => {
      asked.onsuccess = () => asked.result.close();
      reject(new DOMException("", "TimeoutError"));
    }, PATIENCE_MS);
    done(asked).then(resolve, reject).finally(() => clearTimeout(waiting));
  });
}

/** @param {unknown} error  @returns {boolean} whether the device has no room left */
export function isFull(error) {
  return error instanceof DOMException && error.name === "QuotaExceededError";
}

/**
 * @template Value
 * @param {IDBRequest<Value>} request
 * @returns {Promise<Value>}
 */
export function done(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/**
 * @template Value
 * @param {IDBDatabase} database
 * @param {string | string[]} stores
 * @param {IDBTransactionMode} mode
 * @param {(transaction: IDBTransaction) => Value | Promise<Value>} work
 * @returns {Promise<Value>}
 */
async function within(database, stores, mode, work) {
  const transaction = database.transaction(stores, mode);
  const [value] = await Promise.all([work(transaction), finished(transaction)]);
  return value;
}

/** @param {IDBTransaction} transaction  @returns {Promise<void>} */
function finished(transaction) {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onerror = () => reject(transaction.error);
    transaction.onabort = () => reject(transaction.error);
  });
}
