import { Announcer } from "../parts/announcer.js";
import { find, icon, make, write } from "../parts/dom.js";
import { helpButton } from "../parts/help-button.js";
import { toTop } from "../parts/to-top.js";
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
import { toldOf } from "./told-changes.js";
import { UnpaintedError } from "../stage/picture.js";
import { grown } from "../stage/shapes.js";

/** @typedef {import("../places/workroom.js").Workroom} Workroom */
/** @typedef {import("../places/place.js").Place} Place */
/** @typedef {import("../parts/session.js").PlaceName} PlaceName */
/** @typedef {import("../desk/messenger.js").Messenger} Messenger */
/** @typedef {import("./table-hands.js").TableHands} TableHands */

/** How far marks reach around an opening. */
const MARK_PX = 6;
/** How many openings are drawn anew one by one rather than with all that lies between them. */
const MOST_SPOTS = 4;

/** @type {readonly PlaceName[]} */
const PLACES = ["design", "papers", "mats", "glue-up"];

/** What surrounds the places: head, way between places, table and shelf; brings each in step with the rest. */
export class Shell {
  /**
   * @param {Workroom} room
   * @param {Messenger} messenger
   * @param {TableHands} hands
   * @param {import("../project/archive.js").Archive} archive
   */
  constructor(room, messenger, hands, archive) {
    this.room = room;
    this.messenger = messenger;
    this.hands = hands;
    this.stage = hands.stage;
    /** @type {Record<PlaceName, Place>} */
    this.places = {
      design: new DesignPlace(room, () => this.go("papers")),
      papers: new PapersPlace(room, () => this.go("mats")),
      mats: new MatsPlace(room, () => this.go("glue-up"), () => this.go("design")),
      "glue-up": new GluePlace(room, () => this.go("design"), {
        recolour: () => this.go("papers"),
        next: () => this.projects.arrivals.pick(),
      }),
    };
    this.projects = new Projects(room, archive, { toDesign: () => this.go("design"), toPapers: () => this.go("papers") });
    this.redraw = new Redraw(room);
    this.announcer = new Announcer(find("#announcer", HTMLElement));
    /** The project as a screen reader last heard of it. @type {import("../desk/types.js").Project | null} */
    this.told = null;
    /** Openings of which nothing is said anew yet; null where all must be. @type {Set<number> | null} */
    this.unsaid = new Set();
    this.following = 0;
    this.listing = 0;
    this.openings = new OpeningList(find("#stage", HTMLElement), {
      walk: (number, from) => this.#walk(number, from),
      act: (number) => hands.act(number),
      actBetween: (from, to) => hands.actBetween(from, to),
      actAlike: (number) => hands.actAlike(number),
      details: (number) => hands.showDetails(number),
      about: (number) => this.#about(number),
    });
    this.loading = new LoadingView(find("#loading", HTMLElement), () => messenger.restart());
    this.loading.show({ step: "fetch", bytes: 0, total: 0 });
    this.asked = 0;
    /** How much is kept free at the table's foot, and for which place and tools. */
    this.foot = { of: "", px: 0 };
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
    const before = this.place.name;
    if (name !== before) {
      if (store.project) this.place.leave?.();
      this.room.notices.leave();
      this.stage.endVisit();
    }
    session.take({ place: name, active: null, spanned: null, hovered: null, mirrored: false, swaps: null });
    const place = this.places[name];
    const onward = PLACES.indexOf(name) - PLACES.indexOf(before);
    place.panel.classList.toggle("comes-on", onward > 0);
    place.panel.classList.toggle("comes-back", onward < 0);
    const [shelfRoom, shelfFoot] = [find("#shelf-room", HTMLElement), find("#shelf-foot", HTMLElement)];
    shelfRoom.replaceChildren(place.panel);
    toTop(shelfRoom);
    // The button that leads on goes with its place: the keyboard goes on in what it led to.
    if (shelfFoot.contains(document.activeElement)) shelfRoom.focus({ preventScroll: true });
    shelfFoot.replaceChildren(...(place.foot ? [place.foot] : []));
    find("#over", HTMLElement).replaceChildren(...(place.over ? [place.over] : []));
    find("#at-hand", HTMLElement).replaceChildren(...(place.atHand ? [place.atHand] : []));
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
          { help: `place.${name}`, type: "button", "data-place": name, onclick: () => this.go(name) },
          icon(name),
          make("span", {}, say(`place.${name}`)),
        ),
      ),
    );
    find("#head-tools", HTMLElement).prepend(tool("open", "menu.open", () => this.projects.arrivals.pick()), helpButton());
    label("#undo", "act.undo", () => this.room.store.undo());
    label("#redo", "act.redo", () => this.room.store.redo());
    label("#menu-button", "app.open-menu", () => void this.projects.openMenu());
    const shelf = find("#shelf", HTMLElement);
    label("#shelf-grip", "act.taller", () => {
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
    this.empty = make(
      "div",
      { class: "stage-empty", hidden: true },
      make("strong", {}, say("stage.empty")),
      make("p", {}, say("stage.empty-or")),
      make("button", { help: "menu.open", type: "button", class: "button", onclick: () => this.projects.arrivals.pick() }, icon("open"), say("menu.open")),
    );
    this.behind = make("p", { class: "stage-behind", role: "status" });
    find("#stage", HTMLElement).append(this.empty, this.behind);
  }

  #listen() {
    const { store, bench, session } = this.room;
    const foot = new ResizeObserver(() => this.#keepFootFree());
    for (const part of ["#at-hand", "#hint"]) foot.observe(find(part, HTMLElement));
    store.addEventListener("change", (event) => {
      const { step } = /** @type {CustomEvent<import("../project/store.js").Change>} */ (event).detail;
      const opened = step === null;
      if (opened) this.room.notices.clear();
      if (opened) session.take({ papersPart: "give", active: null, spanned: null, hovered: null, spot: null, mending: null, mend: null, picked: undefined, swaps: null, brought: [] });
      bench.follow(this.room.project, opened);
      if (step) this.#tell(step);
      this.told = store.project;
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
    addEventListener("error", ({ error }) => {
      if (error instanceof UnpaintedError) this.room.notices.tell(say("stage.unpainted"), { stays: true });
    });
  }

  /** The design is shown above what floats at the table's foot; where a hint goes, nothing moves before another place. */
  #keepFootFree() {
    const [table, atHand, hint] = ["#table", "#at-hand", "#hint"].map((part) => find(part, HTMLElement));
    if (!table || !atHand || !hint) return;
    const foot = `${this.place.name} ${atHand.offsetHeight}`;
    const reach = hint.offsetHeight > 0 ? table.clientHeight - hint.offsetTop : 0;
    this.foot = { of: foot, px: Math.max(atHand.offsetHeight, reach, this.foot.of === foot ? this.foot.px : 0) };
    this.stage.makeRoom(this.foot.px);
  }

  /** @param {import("../project/course.js").Step} step */
  #tell(step) {
    const told = toldOf(this.told, this.room.project, step, (number) => this.#about(number));
    if (told) this.announcer.say(told);
  }

  /** @param {() => void} takeIt */
  #offerNewer(takeIt) {
    const change = () => this.projects.leave(takeIt, () => this.#offerNewer(takeIt));
    this.room.notices.tell(say("update.ready"), {
      stays: true,
      action: { name: say("update.take"), do: () => void change() },
    });
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (!(event.ctrlKey || event.metaKey) || isTyped(event.target) || document.querySelector("dialog[open]")) return;
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

  /** A tap must show at once: what it changed on the table comes first, and what lies around follows that frame. */
  #update() {
    if (!this.room.store.project) {
      this.#showState();
      return;
    }
    const { all, given, touched } = this.redraw.since();
    if (all) this.unsaid = null;
    for (const number of given) this.unsaid?.add(number);
    const waits = given.length > 0 || (!all && touched.length > 0);
    if (!waits) this.#surround();
    const { shapes } = this.room;
    const slides = !all && shapes !== null && this.stage.scene?.box === shapes.box ? shapes.boxOf(given) : null;
    if (slides) this.stage.slideIn(slides);
    this.#lay(all, touched);
    if (waits) this.following ||= setTimeout(() => this.#surround());
  }

  /** What holds whether or not a project is open. */
  #showState() {
    const { store, bench, shapes } = this.room;
    if (this.empty) this.empty.hidden = shapes !== null || !bench.trouble.has("design");
    this.#showBehind();
    find("#undo", HTMLButtonElement).disabled = !store.canUndo;
    find("#redo", HTMLButtonElement).disabled = !store.canRedo;
  }

  /** Dims what is no longer so until it is made anew, and says that it is. */
  #showBehind() {
    const { bench, session, shapes, store } = this.room;
    const isOld = session.hand.place === "mats" ? bench.hasOldPlan : bench.hasOldDesign;
    const isRefused = bench.trouble.size > 0;
    for (const part of ["#stage", "#shelf"]) find(part, HTMLElement).toggleAttribute("data-behind", isOld);
    const making = store.project && !shapes && !isRefused ? say("stage.making", { name: store.project.name }) : "";
    const old = say(isRefused ? "stage.still" : "stage.renewing");
    if (this.behind) write(this.behind, isOld ? old : making);
  }

  /** Brings what lies around the table in step. */
  #surround() {
    clearTimeout(this.following);
    this.following = 0;
    const { session, project } = this.room;
    const { mirrored, place } = session.hand;
    this.#showState();
    write(find("#project-name", HTMLElement), project.name);
    find("#menu-button", HTMLElement).setAttribute("aria-label", `${project.name}: ${say("app.open-menu")}`);
    write(find("#title", HTMLElement), `${project.name}, ${say(`place.${place}`)}`);
    write(find("title", HTMLElement), `${project.name} · ${say("app.name")}`);
    write(find("#hint", HTMLElement), this.place.hint());
    const over = mirrored ? "act.front" : "act.back";
    const turn = say(over);
    if (this.flip) this.flip.dataset["help"] = over;
    this.flip?.setAttribute("aria-label", turn);
    this.flip?.setAttribute("title", turn);
    this.flip?.setAttribute("aria-pressed", String(mirrored));
    if (this.flip) this.flip.hidden = place === "mats" || this.place.tapTable !== null;
    this.place.update();
    this.listing ||= setTimeout(() => this.#listOpenings());
  }

  /** Says of the openings what is so: nothing that is seen waits for a list that is heard. */
  #listOpenings() {
    this.listing = 0;
    if (!this.room.store.project) return;
    const { mirrored, place } = this.room.session.hand;
    const isListed = this.openings.show(place === "mats" ? null : this.room.shapes, mirrored);
    if (!isListed) this.openings.refresh(this.unsaid);
    this.unsaid = new Set();
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
    const changed = of.flatMap((value, at) => (value === this.sceneOf[at] ? [] : [at]));
    if (of.length === this.sceneOf.length && changed.length === 0) {
      // A few may lie far apart, as where a mouse leaves one and comes to another.
      const few = touched.length <= MOST_SPOTS;
      const spots = few ? touched.map((number) => [number]) : [touched];
      for (const numbers of few || !all ? spots : []) {
        const box = shapes?.boxOf(numbers);
        if (box) this.stage.repaint(grown(box, MARK_PX / this.stage.view.scale));
      }
      if (all) this.stage.repaint();
      return;
    }
    const scene = this.place.scene();
    if (!scene) {
      this.stage.clear();
      this.sceneOf = [];
      return;
    }
    const before = this.stage.scene;
    const otherBox = !before || before.box.some((value, at) => value !== scene.box[at]);
    const isNewer = of.length === this.sceneOf.length && changed.length === 1 && changed[0] === 0;
    this.sceneOf = of;
    if (isNewer && !otherBox) this.stage.renew(scene);
    else this.stage.show(scene, otherBox);
  }

  /** @param {number | null} number  @param {number | null} from  where a box begins that is spanned to it */
  #walk(number, from) {
    this.room.session.take({ active: number, spanned: this.place.sweeps ? from : null });
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
 * Whether it is a field to type in, where undo is the field's own.
 *
 * @param {EventTarget | null} target
 */
function isTyped(target) {
  if (target instanceof HTMLInputElement) return !["checkbox", "radio", "color"].includes(target.type);
  return target instanceof HTMLTextAreaElement;
}

/**
 * @param {string} selector
 * @param {import("../words/words.js").Key} key
 * @param {() => void} act
 */
function label(selector, key, act) {
  const button = find(selector, HTMLButtonElement);
  const name = say(key);
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
    { help: key, type: "button", class: `button-icon ${kind}`, "aria-label": say(key), title: say(key), onclick: act },
    icon(picture),
  );
}
