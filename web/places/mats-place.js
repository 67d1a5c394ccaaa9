import { icon, make } from "../parts/dom.js";
import { writeArea, writeLength, writeMinutes, writeSize } from "../parts/lengths.js";
import { swatch } from "../parts/swatch.js";
import { PLAN_SECONDS } from "../desk/bench.js";
import { chosen } from "../project/edits.js";
import { layOut, MatsLayer } from "../stage/layers/mats-layer.js";
import { say } from "../words/words.js";
import { pieceScene } from "./front.js";
import { MatChoices } from "./mat-choices.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").Plan} Plan */
/** @typedef {import("../desk/types.js").Trim} Trim */

const SETTLE_MS = 600;

/** Mats: which trims to cut, how pieces lie in them, and where they go on the mats. */
export class MatsPlace {
  /**
   * @param {Workroom} room
   * @param {() => void} next
   */
  constructor(room, next) {
    this.room = room;
    this.name = /** @type {const} */ ("mats");
    this.give = null;
    this.tapTable = null;
    this.sweeps = false;
    this.waiting = 0;
    /** @type {Plan | null} */
    this.listed = null;
    this.trouble = make("p", { class: "trouble", role: "alert" });
    this.status = make("p", { class: "soft", role: "status" });
    this.progress = make("progress", { class: "bar", max: PLAN_SECONDS, "aria-label": say("mats.title") });
    this.stop = make(
      "button",
      { type: "button", class: "button", onclick: () => room.bench.stopPlan() },
      icon("stop"),
      say("act.stop"),
    );
    this.again = make(
      "button",
      { type: "button", class: "button", onclick: () => void room.bench.seekPlan() },
      icon("again"),
      say("mats.again"),
    );
    this.figures = make("dl", { class: "figures" });
    this.trims = make("ol", { class: "trims" });
    this.choices = new MatChoices(room);
    this.panel = make(
      "div",
      {},
      make(
        "section",
        { class: "part" },
        make("div", { class: "part-head" }, make("h2", {}, say("mats.title")), this.stop, this.again),
        this.trouble,
        this.progress,
        this.status,
        this.figures,
        this.trims,
      ),
      this.choices.element,
    );
    this.foot = make(
      "button",
      { type: "button", class: "button-main button-wide", onclick: next },
      say("mats.next"),
      icon("next"),
    );
  }

  enter() {
    this.#seekSoon(0);
  }

  update() {
    const { bench, project } = this.room;
    const nothing = Object.keys(chosen(project).papers).length === 0;
    const seeking = bench.planning !== null;
    this.trouble.textContent = bench.trouble.get("plan") ?? "";
    this.progress.hidden = !seeking;
    this.progress.value = bench.planning ?? 0;
    this.stop.hidden = !seeking;
    this.again.hidden = seeking || nothing;
    this.status.textContent = nothing ? say("mats.none") : this.#status();
    this.choices.update();
    if (bench.plan !== this.listed) this.#list(bench.plan);
    if (!nothing && !bench.planHolds && !seeking) this.#seekSoon(SETTLE_MS);
  }

  scene() {
    const { bench, paint, papers, shapes, project, unit } = this.room;
    const { plan } = bench;
    if (!plan || plan.mats.length === 0) return pieceScene(this.room, [], false);
    const laid = layOut(plan.mats);
    const mats = new MatsLayer(
      plan,
      laid,
      paint,
      (id) => papers.get(id) ?? null,
      project.plan,
      unit,
      (piece) => shapes?.byNumber.get(piece)?.label ?? null,
    );
    return { box: laid.box, mirrored: false, weight: plan.trims.flatMap(({ pieces }) => pieces).length, layers: [mats] };
  }

  hint() {
    return say("hint.mats");
  }

  /** @param {number} delay */
  #seekSoon(delay) {
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => {
      const { bench, session, store } = this.room;
      const wanted = session.hand.place === "mats" && store.project && bench.planning === null && !bench.planHolds;
      if (wanted && Object.keys(chosen(this.room.project).papers).length > 0) void bench.seekPlan();
    }, delay);
  }

  #status() {
    const { planning, plan, planHolds } = this.room.bench;
    if (planning !== null) {
      return say("mats.searching", { seconds: Math.floor(planning), total: PLAN_SECONDS });
    }
    return plan && planHolds ? say(plan.complete ? "mats.done" : "mats.stopped") : "";
  }

  /** @param {Plan | null} plan */
  #list(plan) {
    this.listed = plan;
    const { unit } = this.room;
    if (!plan) {
      this.figures.replaceChildren();
      this.trims.replaceChildren();
      return;
    }
    const area = Object.values(plan.paper_area_mm2).reduce((sum, each) => sum + each, 0);
    this.figures.replaceChildren(
      ...figure(say("mats.area"), writeArea(area, unit)),
      ...figure(say("mats.mats", { count: plan.mats.length }), say("mats.trims", { count: plan.trims.length })),
      ...figure(say("mats.cut"), unit === "in" ? writeLength(Math.round(plan.cut_length_mm / 25.4) * 25.4, unit) : writeLength(plan.cut_length_mm, unit)),
      ...figure(say("mats.time"), writeMinutes(plan.seconds)),
    );
    this.trims.replaceChildren(...plan.trims.map((trim) => this.#trim(trim, plan)));
  }

  /**
   * @param {Trim} trim
   * @param {Plan} plan
   */
  #trim(trim, plan) {
    const { unit, papers, paint } = this.room;
    const paper = papers.get(trim.paper);
    const [across, down] = [writeLength(trim.x_mm, unit), writeLength(trim.y_mm, unit)];
    return make(
      "li",
      {},
      make(
        "button",
        { type: "button", class: "trim-row", onclick: () => this.room.lookAt(layOut(plan.mats).boxOf(trim)) },
        paper ? swatch(paint, paper, 44, 44) : null,
        make(
          "span",
          {},
          make(
            "strong",
            {},
            say("mats.trim", { paper: paper?.name ?? "", size: writeSize(trim.width_mm, trim.height_mm, unit) }),
          ),
          make("small", { class: "soft" }, say("mats.on-mat", { mat: trim.mat, x: across, y: down })),
        ),
      ),
    );
  }
}

/**
 * @param {string} name
 * @param {string} value
 */
function figure(name, value) {
  return [make("div", {}, make("dt", {}, name), make("dd", {}, value))];
}
