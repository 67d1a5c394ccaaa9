/**
 * What the person has in hand at the moment; nothing of it is kept or undone.
 *
 * @typedef {"design" | "papers" | "mats" | "glue-up"} PlaceName
 * @typedef {"bar" | "take-bar" | "fill" | "rub" | "shape" | "outline"} MendTool
 * @typedef {{
 *   place: PlaceName,
 *   arrived: string | null,
 *   picked: string | null | undefined,
 *   tool: "paper" | "lock",
 *   swaps: string | null,
 *   swapped: readonly [string, string] | null,
 *   papersPart: "give" | "suggest" | "colourways" | "page",
 *   gives: "one" | "motif" | "alike" | "shape",
 *   likened: number | null,
 *   motif: string | null,
 *   drag: "sweep" | "ring" | "box" | "look",
 *   active: number | null,
 *   spanned: number | null,
 *   hovered: number | null,
 *   mirrored: boolean,
 *   strength: boolean,
 *   lips: boolean,
 *   mending: MendTool | null,
 *   mend: string | null,
 *   spot: {finding: string, at: number} | null,
 *   joins: boolean,
 *   held: {trim: string, piece: number | null} | null,
 *   lifted: boolean,
 *   lit: string | null,
 *   brought: readonly string[],
 * }} Hand  `swaps`: the paper that the next one picked changes places with; `swapped`: papers that are seen in each other's places while one is held over the other; `arrived`: the project whose reading and size are still to be looked at; `picked`: a paper's id, null to leave open, undefined when nothing is picked; `tool`: what a tap does,
 *   give the picked paper or lock what is there; `spanned`: the opening from which the keyboard spans a box to the
 *   active one; `held`: the trim or piece on the mats that is in hand; `lifted`: whether
 *   it is off the mat; `brought`: the papers that were brought in since the project was opened; `lit`: the key of the motif whose pieces are lit on the mats; `mending`: what mends the card by hand; `mend`: the mend that is looked at, by id; `spot`: the finding that is looked at, and which of its places; `joins`: a tap joins or parts pieces; `likened`: how alike openings must be to light up while that is being set; `motif`: the key of the motif that is being changed; `drag`: what a drag does where papers are given
 */

/** Events: "change" (detail: the names of what changed). */
export class Session extends EventTarget {
  constructor() {
    super();
    /** @type {Readonly<Hand>} */
    this.hand = {
      place: "design",
      arrived: null,
      picked: undefined,
      tool: "paper",
      swaps: null,
      swapped: null,
      papersPart: "give",
      gives: "one",
      likened: null,
      motif: null,
      drag: "sweep",
      active: null,
      spanned: null,
      hovered: null,
      mirrored: false,
      strength: false,
      lips: false,
      mending: null,
      mend: null,
      spot: null,
      joins: false,
      held: null,
      lifted: false,
      lit: null,
      brought: [],
    };
  }

  /** Takes the first of papers in hand that were just brought in. @param {readonly string[]} papers  their ids */
  bring(papers) {
    this.take({ picked: papers[0], tool: "paper", brought: [...this.hand.brought, ...papers] });
  }

  /** @param {Partial<Hand>} change */
  take(change) {
    const before = this.hand;
    this.hand = { ...before, ...change };
    const names = /** @type {(keyof Hand)[]} */ (Object.keys(change));
    const changed = names.filter((name) => before[name] !== this.hand[name]);
    if (changed.length > 0) this.dispatchEvent(new CustomEvent("change", { detail: changed }));
  }
}
