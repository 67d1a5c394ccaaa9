import { find, icon, make, write } from "../parts/dom.js";
import { helpButton } from "../parts/help-button.js";
import { DesignPlace } from "../places/design-place.js";
import { GluePlace } from "../places/glue-place.js";
import { MatsPlace } from "../places/mats-place.js";
import { PapersPlace } from "../places/papers-place.js";
import { OpeningList } from "../stage/opening-list.js";
import { say } from "../words/words.js";
import { keepSite } from "./kept-site.js";
import { LoadingView } from "./loading-view.js";
import { Projects } from "./projects.js";
import { Redraw } from "./redraw.js";
import { grown } from "../stage/shapes.js";

/** @typedef {import("../places/workroom.js").Workroom} Workroom */
/** @typedef {import("../places/place.js").Place} Place */
/** @typedef {import("../parts/session.js").PlaceName} PlaceName */
/** @typedef {import("../desk/messenger.js").Messenger} Messenger */
/** @typedef {import("./table-hands.js").TableHands} TableHands */

/** How far marks reach around an opening. */
const MARK_PX = 6;

/** @type {readonly PlaceName[]} */
const PLACES = ["design", "papers", "mats", "glue-up"];

/** What surrounds the places: head, way between places, table and shelf; brings each in step with the rest. */
export class Shell {
  /**
   * @param {Workroom} room
   * @param {Messenger} messenger
   * @param {TableHands} hands
   */
  constructor(room, messenger, hands) {
    this.room = room;
    this.messenger = messenger;
    this.hands = hands;
    this.stage = hands.stage;
    /** @type {Record<PlaceName, Place>} */
    this.places = {
      design: new DesignPlace(room, () => this.go("papers")),
      papers: new PapersPlace(room, () => this.go("mats")),
      mats: new MatsPlace(room, () => this.go("glue-up")),
      "glue-up": new GluePlace(room),
    };
    this.projects = new Projects(room);
    this.redraw = new Redraw(room);
    this.openings = new OpeningList(find("#stage", HTMLElement), {
      walk: (number) => this.#walk(number),
      act: (number) => hands.act(number),
      actAlike: (number) => hands.actAlike(number),
      details: (number) => hands.showDetails(number),
      about: (number) => this.#about(number),
    });
    this.loading = new LoadingView(find("#loading", HTMLElement), () => messenger.restart());
    this.loading.show({ step: "fetch", bytes: 0, total: 0 });
    this.asked = 0;
    /** @type {unknown[]} */
    this.sceneOf = [];
    this.#furnish();
    this.#listen();
  }

  /** @returns {Place} the place that is open */
  get place() {
    return this.places[this.room.session.hand.place];
  }

  async begin() {
    this.go("design");
    await this.projects.begin();
  }

  /** @param {PlaceName} name */
  go(name) {
    const { session, store } = this.room;
    if (store.project && name !== this.place.name) this.place.leave?.();
    session.take({ place: name, active: null, hovered: null, mirrored: false });
    const place = this.places[name];
    find("#shelf-room", HTMLElement).replaceChildren(place.panel);
    find("#shelf-room", HTMLElement).scrollTop = 0;
    find("#shelf-foot", HTMLElement).replaceChildren(...(place.foot ? [place.foot] : []));
    find("#over", HTMLElement).replaceChildren(...(place.over ? [place.over] : []));
    find("#shelf", HTMLElement).setAttribute("aria-label", say(`place.${name}`));
    for (const button of find("#places", HTMLElement).querySelectorAll("button")) {
      if (button.dataset["place"] === name) button.setAttribute("aria-current", "page");
      else button.removeAttribute("aria-current");
    }
    if (store.project) place.enter();
    this.#refresh();
  }

  #furnish() {
    find("#places", HTMLElement).setAttribute("aria-label", say("place.nav"));
    find("#places", HTMLElement).append(
      ...PLACES.map((name) =>
        make(
          "button",
          { type: "button", "data-place": name, onclick: () => this.go(name) },
          icon(name),
          make("span", {}, say(`place.${name}`)),
        ),
      ),
    );
    find("#head-tools", HTMLElement).prepend(helpButton());
    label("#undo", say("act.undo"), () => this.room.store.undo());
    label("#redo", say("act.redo"), () => this.room.store.redo());
    label("#menu-button", say("app.open-menu"), () => void this.projects.openMenu());
    const shelf = find("#shelf", HTMLElement);
    label("#shelf-grip", say("act.taller"), () => {
      const heights = ["middle", "tall", "low"];
      shelf.dataset["height"] = heights[(heights.indexOf(shelf.dataset["height"] ?? "middle") + 1) % 3];
    });
    this.flip = tool("flip", "act.back", () =>
      this.room.session.take({ mirrored: !this.room.session.hand.mirrored }),
    );
    find("#table-tools", HTMLElement).append(
      this.flip,
      tool("minus", "act.farther", () => this.stage.zoom(1 / 1.5), "tool-zoom"),
      tool("fit", "act.fit", () => this.stage.fit()),
      tool("plus", "act.closer", () => this.stage.zoom(1.5), "tool-zoom"),
    );
    find("#stage", HTMLElement).dataset["drop"] = say("stage.drop");
  }

  #listen() {
    const { store, bench, session } = this.room;
    store.addEventListener("change", (event) => {
      const { step } = /** @type {CustomEvent<import("../project/store.js").Change>} */ (event).detail;
      const opened = step === null;
      if (opened) session.take({ active: null, hovered: null, warning: null, picked: undefined });
      bench.follow(this.room.project, opened);
      if (opened) {
        this.sceneOf = [];
        this.stage.fitted = true;
        this.place.enter();
      }
      this.#refresh();
    });
    for (const name of ["design", "backing", "plan", "trouble"]) {
      bench.addEventListener(name, () => this.#refresh());
    }
    session.addEventListener("change", () => this.#refresh());
    this.room.pictures.addEventListener("loaded", () => this.#refresh());
    this.messenger.addEventListener("loading", (event) => {
      this.loading.show(/** @type {CustomEvent} */ (event).detail);
    });
    this.messenger.addEventListener("ready", () => this.loading.done());
    this.messenger.addEventListener("ready", () => void keepSite((takeIt) => this.#offerNewer(takeIt)), { once: true });
    addEventListener("online", () => this.messenger.isBroken && this.messenger.restart());
    this.messenger.addEventListener("restarted", () => {
      bench.loseWorker();
      this.room.notices.tell(say("loading.restarted"));
    });
    this.messenger.addEventListener("broken", (event) => {
      this.loading.broken(/** @type {CustomEvent} */ (event).detail.message);
    });
    addEventListener("keydown", (event) => this.#key(event));
  }

  /** @param {() => void} takeIt */
  #offerNewer(takeIt) {
    const change = async () => {
      await this.projects.keeper?.save();
      takeIt();
    };
    this.room.notices.tell(say("update.ready"), {
      stays: true,
      action: { name: say("update.take"), do: () => void change() },
    });
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (!(event.ctrlKey || event.metaKey) || event.target instanceof HTMLInputElement) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) this.room.store.undo();
    else if (key === "y" || (key === "z" && event.shiftKey)) this.room.store.redo();
    else return;
    event.preventDefault();
  }

  /** Brings everything in step before the next frame. */
  #refresh() {
    if (this.asked) return;
    this.asked = requestAnimationFrame(() => {
      this.asked = 0;
      this.#update();
    });
  }

  #update() {
    const { store, session, shapes } = this.room;
    find("#undo", HTMLButtonElement).disabled = !store.canUndo;
    find("#redo", HTMLButtonElement).disabled = !store.canRedo;
    if (!store.project) return;
    write(find("#project-name", HTMLElement), store.project.name);
    find("#menu-button", HTMLElement).setAttribute("aria-label", `${store.project.name}: ${say("app.open-menu")}`);
    write(find("#title", HTMLElement), `${store.project.name}, ${say(`place.${session.hand.place}`)}`);
    write(find("title", HTMLElement), `${store.project.name} · ${say("app.name")}`);
    write(find("#hint", HTMLElement), this.place.hint());
    const turn = say(session.hand.mirrored ? "act.front" : "act.back");
    this.flip?.setAttribute("aria-label", turn);
    this.flip?.setAttribute("title", turn);
    this.flip?.setAttribute("aria-pressed", String(session.hand.mirrored));
    if (this.flip) this.flip.hidden = session.hand.place === "mats" || this.place.tapTable !== null;
    this.place.update();
    const { all, given, touched } = this.redraw.since();
    this.openings.show(session.hand.place === "mats" ? null : shapes, session.hand.mirrored);
    this.openings.refresh(all ? null : given);
    this.#lay(all, touched);
  }

  /**
   * Lays the place's scene on the table; a new one where it shows other things than before.
   *
   * @param {boolean} all
   * @param {readonly number[]} touched  openings to draw anew, where not all must be
   */
  #lay(all, touched) {
    const { bench, session, shapes, project } = this.room;
    const inMats = session.hand.place === "mats";
    const of = [
      shapes,
      session.hand.place,
      session.hand.mirrored,
      project.look,
      inMats && bench.plan,
      inMats && this.room.unit,
      ...(this.place.sceneOf ?? []),
    ];
    if (of.length === this.sceneOf.length && of.every((value, at) => value === this.sceneOf[at])) {
      const box = all ? null : shapes?.boxOf(touched);
      if (all) this.stage.repaint();
      else if (box) this.stage.repaint(grown(box, MARK_PX / this.stage.view.scale));
      return;
    }
    const scene = this.place.scene();
    if (!scene) return;
    const before = this.stage.scene;
    const otherBox = !before || before.box.some((value, at) => value !== scene.box[at]);
    this.sceneOf = of;
    this.stage.show(scene, otherBox);
  }

  /** @param {number | null} number */
  #walk(number) {
    this.room.session.take({ active: number });
    const box = number === null ? null : this.room.shapes?.byNumber.get(number)?.box;
    if (box) this.stage.reveal(box);
  }

  /** @param {number} number */
  #about(number) {
    const paper = this.room.paperOf(number);
    const name = paper ? `${this.room.shelfNumber(paper.id)} ${paper.name}` : say("stage.open");
    const locked = this.room.areLocked([number]);
    return say(locked ? "stage.opening-locked" : "stage.opening", { number, paper: name });
  }
}

/**
 * @param {string} selector
 * @param {string} name
 * @param {() => void} act
 */
function label(selector, name, act) {
  const button = find(selector, HTMLButtonElement);
  button.setAttribute("aria-label", name);
  button.title = name;
  button.addEventListener("click", act);
}

/**
 * @param {string} picture
 * @param {import("../words/words.js").Key} key
 * @param {() => void} act
 * @param {string} [kind]
 */
function tool(picture, key, act, kind = "") {
  return make(
    "button",
    { type: "button", class: `button-icon ${kind}`, "aria-label": say(key), title: say(key), onclick: act },
    icon(picture),
  );
}
