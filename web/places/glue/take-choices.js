import { Choice } from "../../parts/choice.js";
import { make } from "../../parts/dom.js";
import { recall, remember } from "../../basics/memory.js";
import { Toggle } from "../../parts/toggle.js";
import { say } from "../../words/words.js";

/** @typedef {import("../../words/words.js").Key} Key */
/**
 * @typedef {{kinds: string[], knows: string[], unit: string | null, paper_size: string | null, mirrored: boolean,
 *   guides: boolean, per_paper: boolean, size_check: boolean}} Wishes  `knows` are all kinds that there were to
 *   choose from; unit and paper size are null until chosen: they then follow the project's measures
 */

const KEY = "peekpaper-take";
const KINDS = ["cut", "dxf", "templates", "printed-trims", "printed-pieces", "trim-list", "glue-up"];
/** Only of use where papers are printed; wished for again where an earlier page did not know of them. */
const PRINTED_KINDS = ["printed-trims", "printed-pieces"];
const SWITCHES = /** @type {const} */ (["mirrored", "guides", "per_paper", "size_check"]);
const PAPER_SIZES = ["A4", "Letter", "A3", "Tabloid"];

/** @type {Wishes} */
const FIRST = {
  kinds: ["cut", "templates", "printed-trims", "trim-list", "glue-up"],
  knows: KINDS,
  unit: null,
  paper_size: null,
  mirrored: false,
  guides: false,
  per_paper: false,
  size_check: false,
};

/** Which sheets to take and how; remembered in this browser, since it is the machine and printer that decide. */
export class TakeChoices {
  /** @param {() => void} changed */
  constructor(changed) {
    this.changed = changed;
    this.wishes = remembered();
    this.hasPrints = false;
    this.kinds = KINDS.map((kind) => {
      const box = this.#box(kind);
      const row = make(
        "label",
        { class: "take-kind" },
        box,
        make("strong", {}, say(/** @type {Key} */ (`take.kind-${kind}`))),
        make("small", { class: "soft" }, say(/** @type {Key} */ (`take.kind-${kind}-about`))),
      );
      return { kind, box, row };
    });
    this.unit = /** @type {Choice<string>} */ (new Choice("take.unit", (unit) => this.#wish({ unit })));
    this.size = /** @type {Choice<string>} */ (
      new Choice("take.paper-size", (size) => this.#wish({ paper_size: size }))
    );
    this.switches = SWITCHES.map((name) => ({
      name,
      toggle: new Toggle(`take.${name}`, (on) => this.#wish({ [name]: on })),
    }));
    this.element = make(
      "div",
      { class: "stack" },
      make(
        "fieldset",
        { help: "take.kinds", class: "take-kinds" },
        make("legend", { class: "soft small" }, say("take.kinds")),
        ...this.kinds.map(({ row }) => row),
      ),
      make(
        "details",
        { class: "fold take-more" },
        make("summary", { help: "take.more" }, say("take.more")),
        make(
          "div",
          { class: "stack" },
          this.unit.element,
          this.size.element,
          make(
            "div",
            {},
            ...this.switches.map(({ name, toggle }) =>
              make("div", { class: "take-switch" }, toggle.element, make("p", { class: "soft small" }, say(`take.${name}-about`))),
            ),
          ),
        ),
      ),
    );
  }

  /** Whether no kind is chosen. */
  get isEmpty() {
    return this.#wanted.length === 0;
  }

  /** Whether papers are to be printed. */
  get prints() {
    return this.#wanted.some((kind) => PRINTED_KINDS.includes(kind));
  }

  /** The kinds that are chosen and of use. */
  get #wanted() {
    return this.wishes.kinds.filter((kind) => this.hasPrints || !PRINTED_KINDS.includes(kind));
  }

  /**
   * What to ask the desk for, by the names of `peekpaper.sheets.choices`.
   *
   * @param {string} units  the project's
   */
  asked(units) {
    const { unit, paper_size: size, kinds: _, knows: __, ...rest } = this.wishes;
    return { ...rest, kinds: [...this.#wanted, "archive"], unit: unit ?? units, paper_size: size ?? usualSize(units) };
  }

  /**
   * @param {string} units  the project's
   * @param {boolean} hasPrints  whether a paper of the plan is printed
   */
  update(units, hasPrints) {
    const { wishes } = this;
    this.hasPrints = hasPrints;
    for (const { kind, box, row } of this.kinds) {
      box.checked = wishes.kinds.includes(kind);
      row.hidden = !hasPrints && PRINTED_KINDS.includes(kind);
    }
    this.unit.show(
      ["in", "mm"].map((value) => ({ value, text: say(/** @type {Key} */ (`menu.unit-${value}`)) })),
      wishes.unit ?? units,
    );
    this.size.show(
      PAPER_SIZES.map((value) => ({ value, text: value })),
      wishes.paper_size ?? usualSize(units),
    );
    for (const { name, toggle } of this.switches) toggle.show(wishes[name]);
  }

  /** @param {string} kind */
  #box(kind) {
    const box = make("input", {
      type: "checkbox",
      onchange: () =>
        this.#wish({
          kinds: KINDS.filter((each) => (each === kind ? box.checked : this.wishes.kinds.includes(each))),
        }),
    });
    return box;
  }

  /** @param {Partial<Wishes>} change */
  #wish(change) {
    this.wishes = { ...this.wishes, ...change };
    remember(KEY, JSON.stringify(this.wishes));
    this.changed();
  }
}

/** @returns {Wishes} what was chosen last in this browser, as far as it can be read */
function remembered() {
  try {
    const kept = JSON.parse(recall(KEY) ?? "{}");
    return {
      ...FIRST,
      ...Object.fromEntries(SWITCHES.map((name) => [name, kept[name] === true])),
      kinds: KINDS.filter((kind) => (isKnown(kept, kind) ? kept.kinds.includes(kind) : FIRST.kinds.includes(kind))),
      unit: ["in", "mm"].includes(kept.unit) ? kept.unit : null,
      paper_size: PAPER_SIZES.includes(kept.paper_size) ? kept.paper_size : null,
    };
  } catch {
    return FIRST;
  }
}

/**
 * @param {any} kept
 * @param {string} kind
 * @returns {boolean} whether the person could choose a kind of file when the choices were kept
 */
function isKnown(kept, kind) {
  if (!Array.isArray(kept.kinds)) return false;
  return Array.isArray(kept.knows) ? kept.knows.includes(kind) : !PRINTED_KINDS.includes(kind);
}

/** @param {string} units */
function usualSize(units) {
  return units === "in" ? "Letter" : "A4";
}
