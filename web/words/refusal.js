/** What can't be done, as the package tells it. */
export class Refusal extends Error {
  /**
   * @param {import("../desk/types.js").Message} said
   */
  constructor(said) {
    super(said.key);
    this.said = said;
  }
}

/** Parts that only one call needs could not be fetched. */
export class Unfetched extends Error {}

/** The person or the page stopped the call. */
export class Cancelled extends Error {}
