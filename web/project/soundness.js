import { faultIn } from "./schema.js";

/** @typedef {import("./schema.js").Schema & {$defs: import("./schema.js").Definitions}} ProjectSchema */

/** Tells documents that can't be shown before anything is drawn, by the package's own schema. */
export class Soundness {
  constructor() {
    this.schema = fetched();
  }

  /**
   * Where a kept document first is not as it must be. One of an earlier version is brought up to date, and judged,
   * by the package; so is any where the schema can't be had.
   *
   * @param {import("../desk/types.js").Project} document
   * @returns {Promise<string | null>}
   */
  async faultOf(document) {
    const schema = await this.schema;
    const { version } = /** @type {{version?: unknown}} */ (/** @type {unknown} */ (document));
    if (!schema || version !== schema.properties?.["version"]?.const) return null;
    return faultIn(document, schema, schema.$defs);
  }
}

/** @returns {Promise<ProjectSchema | null>} */
async function fetched() {
  const answer = await fetch(new URL("project.schema.json", import.meta.url)).catch(() => null);
  return answer?.ok ? answer.json().catch(() => null) : null;
}
