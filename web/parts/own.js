/**
 * What a table holds under a name that comes from a document: nothing for names such as "constructor", which every
 * object knows of itself.
 *
 * @template Value
 * @param {Readonly<Record<string, Value>>} table
 * @param {string} name
 * @returns {Value | undefined}
 */
export function own(table, name) {
  return Object.hasOwn(table, name) ? table[name] : undefined;
}
