import { Toggle } from "../../../parts/toggle.js";
import { field } from "../../../parts/field.js";
import { icon, make, write } from "../../../parts/dom.js";
import { say } from "../../../words/words.js";
import { NEW } from "../../motifs.js";
import { RowsPart } from "./rows-part.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */

const MOST_LETTERS = 300;

/** The motifs as rows: a tap gives a whole one what is in hand; each can be changed, named, and backed by one piece. */
export class MotifsPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    const { motifs } = room;
    this.rows = new RowsPart(room, {
      fold: "motifs",
      give: "motifs.row-give",
      groups: () => this.#groups(),
      key: () => room.project.motifs,
      name: (group) => motifs.all[group]?.title ?? "",
      about: (_group, count) => say("motifs.count", { count }),
      beside: (group) => this.#changing(group),
    });
    this.about = make("p", { class: "soft small" }, say("motifs.about"));
    this.add = make(
      "button",
      { help: "motifs.new", type: "button", class: "button-quiet", onclick: () => this.#take(NEW) },
      icon("edit"),
      say("motifs.new"),
    );
    this.heading = make("h3", {});
    this.count = make("p", { class: "soft small", "aria-live": "polite" });
    this.name = make("input", {
      type: "text",
      maxlength: MOST_LETTERS,
      autocomplete: "off",
      onchange: () => motifs.rename(this.name.value.trim()),
    });
    this.onePiece = new Toggle("motifs.one-piece", (together) => motifs.share(together));
    this.forget = make(
      "button",
      { help: "motifs.as-found", type: "button", class: "button-quiet", onclick: () => motifs.forget() },
      say("motifs.as-found"),
    );
    this.done = make(
      "button",
      { help: "motifs.done", type: "button", class: "button-main", onclick: () => this.#take(null) },
      say("motifs.done"),
    );
    this.naming = field("motifs.name", this.name);
    this.card = make(
      "div",
      { class: "stack", hidden: true },
      this.heading,
      make("p", { class: "soft small" }, say("motifs.change-about")),
      this.count,
      this.naming,
      this.onePiece.element,
      this.forget,
      this.done,
    );
    this.rows.element.append(this.card, this.add);
    this.rows.list.before(this.about);
    this.rows.element.addEventListener("toggle", () => this.update());
    this.element = this.rows.element;
  }

  update() {
    const { motifs, session } = this.room;
    const key = session.hand.motif;
    if (!this.element.open && session.hand.gives !== "motif") return;
    void motifs.seek(() => this.update());
    if (!this.element.open) return;
    this.rows.update();
    const changes = key !== null;
    this.card.hidden = !changes;
    for (const each of [this.about, this.rows.list, this.add]) each.hidden = changes;
    if (!changes) return;
    const { held, isOnePiece } = motifs;
    write(this.heading, held?.title ?? say("motifs.new"));
    write(this.count, say("motifs.count", { count: held?.openings.length ?? 0 }));
    if (document.activeElement !== this.name) this.name.value = held?.name ?? "";
    this.naming.hidden = !held;
    this.onePiece.element.hidden = isOnePiece === null;
    this.onePiece.show(isOnePiece === true);
    this.forget.hidden = !held?.own;
  }

  /** @returns {readonly number[]} the place of each opening's motif, openings in order */
  #groups() {
    const { motifs, shapes } = this.room;
    if (!motifs.known) return [];
    const at = new Map(motifs.all.flatMap(({ openings }, place) => openings.map((number) => [number, place])));
    return (shapes?.openings ?? []).map(({ number }) => at.get(number) ?? 0);
  }

  /** @param {number} group  @returns {HTMLElement} the button that changes a motif */
  #changing(group) {
    const motif = this.room.motifs.all[group];
    const name = say("motifs.change", { name: motif?.title ?? "" });
    return make(
      "button",
      { help: "motifs.change", type: "button", class: "button-icon", "aria-label": name, title: name, onclick: () => this.#take(motif?.key ?? NEW) },
      icon("edit"),
    );
  }

  /** @param {string | null} motif  to change; null when that is done */
  #take(motif) {
    this.room.session.take({ motif });
    (motif === null ? this.add : this.done).focus();
  }
}
