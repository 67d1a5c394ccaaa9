import { icon, make } from "../parts/dom.js";
import { isBare } from "../project/edits.js";
import { countPins, isPinned, unpinAll } from "../project/pins.js";
import { LONGER_SECONDS } from "../desk/bench.js";
import { layOut, MatsLayer } from "../stage/layers/mats-layer.js";
import { say } from "../words/words.js";
import { pieceScene } from "./front.js";
import { FiguresPart } from "./mats/figures-part.js";
import { NarrowLips } from "./narrow-lips.js";
import { PlanSeeker } from "./plan-seeker.js";
import { HeldCard } from "./mats/held-card.js";
import { MatChoices } from "./mats/mat-choices.js";
import { MatHand } from "./mats/mat-hand.js";
import { MotifsPart } from "./mats/motifs-part.js";
import { SpeedPart } from "./mats/speed-part.js";
import { TrimsPart } from "./mats/trims-part.js";
import { showTrouble } from "../parts/trouble.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */

/** Mats: which trims to cut, how pieces lie in them, and where they go on the mats; by the solver or by hand. */
export class MatsPlace {
  /**
   * @param {Workroom} room
   * @param {() => void} next
   * @param {() => void} toDesign
   */
  constructor(room, next, toDesign) {
    this.room = room;
    this.name = /** @type {const} */ ("mats");
    this.give = null;
    this.sweeps = false;
    this.seeker = new PlanSeeker(room, this.name);
    /** What the figures tell of. @type {readonly unknown[]} */
    this.told = [];
    this.hand = new MatHand(room);
    this.carries = this.hand;
    this.tapTable = (/** @type {number} */ x, /** @type {number} */ y) => this.hand.tap(x, y);
    this.motifs = new MotifsPart(room);
    this.card = new HeldCard(room, this.hand, this.motifs);
    this.over = this.card.element;
    this.trouble = make("div", { class: "trouble", role: "alert" });
    this.status = make("p", { class: "soft", role: "status" });
    this.progress = make("progress", { class: "bar", "aria-label": say("mats.title") });
    this.stop = button("stop", "act.stop", () => room.bench.stopPlan());
    this.longer = button("again", "mats.longer", () => this.#lookLonger());
    this.release = button("unpin", "mats.unpin-all", () => this.#release());
    this.lips = new NarrowLips(room, toDesign);
    this.figures = new FiguresPart(room);
    this.trims = new TrimsPart(room, (held) => this.hand.take(held));
    this.speed = new SpeedPart(room);
    this.choices = new MatChoices(room);
    this.panel = make(
      "div",
      {},
      make(
        "section",
        { class: "part" },
        make("div", { class: "part-head" }, make("h2", {}, say("mats.title")), this.stop, this.longer),
        this.trouble,
        this.progress,
        this.status,
        this.lips.element,
        this.release,
        this.figures.element,
        this.speed.element,
      ),
      this.trims.element,
      this.motifs.element,
      this.choices.element,
    );
    this.foot = make(
      "button",
      { help: "mats.next", type: "button", class: "button-main button-wide", onclick: next },
      say("mats.next"),
      icon("next"),
    );
  }

  enter() {
    if (!isBare(this.room.project)) this.seeker.soon(0);
  }

  leave() {
    this.hand.take(null);
    this.hand.update();
    this.room.session.take({ lit: null });
  }

  update() {
    const { bench, paint, project, unit } = this.room;
    const { planning, trouble } = bench;
    const nothing = isBare(project);
    showTrouble(this.trouble, trouble.get("plan") ?? null, unit);
    this.progress.hidden = !planning;
    if (planning?.seconds) {
      this.progress.max = planning.seconds;
      this.progress.value = planning.elapsed;
    } else this.progress.removeAttribute("value");
    this.stop.hidden = !planning;
    this.longer.hidden = planning !== null || nothing || !bench.planHolds;
    this.release.hidden = countPins(project) === 0;
    this.status.textContent = nothing ? say("mats.none") : this.#status();
    this.lips.update();
    this.choices.update();
    this.speed.update();
    const told = [bench.plan, unit, project.shelf.papers, paint.loaded];
    if (told.some((value, at) => value !== this.told[at])) {
      this.told = told;
      this.figures.show(bench.plan);
    }
    this.hand.update();
    this.trims.update();
    this.motifs.update();
    this.card.update();
    if (nothing) return;
    this.room.desk.packSoon(project);
    this.seeker.soon();
  }

  /** What the scene shows besides what every place's does. */
  get sceneOf() {
    const { plan } = this.room.project;
    const { lifted, lit } = this.room.session.hand;
    return [plan.trim_pins, plan.piece_pins, lifted, lit];
  }

  scene() {
    const { bench, paint, papers, session, shapes, project, unit } = this.room;
    const { held, lifted } = session.hand;
    const { plan } = bench;
    if (!plan || plan.mats.length === 0) return pieceScene(this.room, [], false);
    const laid = layOut(plan.mats);
    const numbered = shapes?.numberedBy(bench.backing?.pieces ?? []);
    const mats = new MatsLayer(
      plan,
      laid,
      paint,
      (id) => papers.get(id) ?? null,
      project.plan,
      unit,
      (piece) => numbered?.get(piece)?.label ?? null,
      (one) => isPinned(project, one),
      lifted ? held : null,
      this.motifs.lit,
    );
    return { box: laid.box, mirrored: false, weight: plan.trims.flatMap(({ pieces }) => pieces).length, layers: [mats] };
  }

  hint() {
    const { held } = this.room.session.hand;
    if (!this.room.bench.plan?.trims.length) return "";
    return say(held?.piece ? "hint.held-piece" : held ? "hint.held-trim" : "hint.mats");
  }

  #release() {
    const { bench, store } = this.room;
    store.edit("", unpinAll);
    void bench.seekPlan();
  }

  #lookLonger() {
    const { bench, store } = this.room;
    store.note((project) => ({ ...project, plan: { ...project.plan, rounds: null } }));
    void bench.seekPlan(LONGER_SECONDS);
  }

  #status() {
    const { planning, plan, planHolds } = this.room.bench;
    if (planning?.seconds) {
      const seconds = Math.min(Math.floor(planning.elapsed), planning.seconds);
      return say("mats.searching", { seconds, total: planning.seconds });
    }
    if (planning) return say("mats.again");
    if (!plan || !planHolds) return "";
    // Papers may be given to openings that are there no more.
    return say(plan.trims.length === 0 ? "mats.none" : plan.complete ? "mats.done" : "mats.stopped");
  }
}

/**
 * @param {string} picture
 * @param {import("../words/words.js").Key} key
 * @param {() => void} act
 */
function button(picture, key, act) {
  return make("button", { help: key, type: "button", class: "button", onclick: act }, icon(picture), say(key));
}
