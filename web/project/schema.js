/**
 * The part of JSON Schema (draft 2020-12) by which the package tells what a project may hold.
 *
 * @typedef {{
 *   $ref?: string, const?: unknown, enum?: unknown[], anyOf?: Schema[], type?: string,
 *   minimum?: number, maximum?: number, maxLength?: number,
 *   minItems?: number, maxItems?: number, prefixItems?: Schema[], items?: Schema | false,
 *   required?: string[], properties?: Record<string, Schema>, maxProperties?: number,
 *   additionalProperties?: Schema | false,
 * }} Schema
 * @typedef {Readonly<Record<string, Schema>>} Definitions
 */

/** @type {Readonly<Record<string, (value: unknown) => boolean>>} */
const TYPES = {
  string: (value) => typeof value === "string",
  number: Number.isFinite,
  integer: Number.isInteger,
  boolean: (value) => typeof value === "boolean",
  null: (value) => value === null,
  array: Array.isArray,
  object: (value) => typeof value === "object" && value !== null && !Array.isArray(value),
};

/**
 * Where a value first is not as a schema has it. Parts that the schema does not know are let be.
 *
 * @param {unknown} value
 * @param {Schema} schema
 * @param {Definitions} definitions  what `$ref` names
 * @param {string} [place]  of the value
 * @returns {string | null} a place such as "shelf.papers.3.name"
 */
export function faultIn(value, schema, definitions, place = "") {
  const { $ref: named, anyOf: ways, type } = schema;
  if (named) return faultIn(value, definitions[named.slice("#/$defs/".length)] ?? {}, definitions, place);
  if (ways) return ways.some((way) => faultIn(value, way, definitions) === null) ? null : place;
  if ("const" in schema && value !== schema.const) return place;
  if (schema.enum && !schema.enum.includes(value)) return place;
  if (type && !TYPES[type]?.(value)) return place;
  if (!isWithin(value, schema)) return place;
  for (const [name, each, part] of partsOf(value, schema)) {
    const fault = faultIn(each, part, definitions, `${place}.${name}`);
    if (fault !== null) return fault;
  }
  return null;
}

/**
 * @param {unknown} value
 * @param {Schema} schema
 */
function isWithin(value, { minimum = -Infinity, maximum = Infinity, maxLength = Infinity, ...counts }) {
  if (typeof value === "number") return minimum <= value && value <= maximum;
  // The package counts characters, of which one may take two places here.
  if (typeof value === "string") return value.length <= maxLength || [...value].length <= maxLength;
  const { minItems = 0, maxItems = Infinity, maxProperties = Infinity, required = [] } = counts;
  if (Array.isArray(value)) return minItems <= value.length && value.length <= maxItems;
  if (typeof value !== "object" || value === null) return true;
  return Object.keys(value).length <= maxProperties && required.every((name) => Object.hasOwn(value, name));
}

/**
 * @param {unknown} value
 * @param {Schema} schema
 * @returns {Generator<[string | number, unknown, Schema]>} the name of each part, the part, and its schema
 */
function* partsOf(value, { prefixItems = [], items, properties = {}, additionalProperties: others }) {
  if (Array.isArray(value)) {
    for (const [at, each] of value.entries()) {
      const part = prefixItems[at] ?? items;
      if (part) yield [at, each, part];
    }
  } else if (typeof value === "object" && value !== null) {
    for (const [name, each] of Object.entries(value)) {
      const part = Object.hasOwn(properties, name) ? properties[name] : others;
      if (part) yield [name, each, part];
    }
  }
}
