import { Cancelled } from "../words/refusal.js";
import { download } from "../parts/files/download.js";
import { recall, remember } from "../basics/memory.js";
import { saveFile } from "../parts/files/save-file.js";
import { attempts } from "../project/attempts.js";
import { Keeper } from "../project/keeper.js";
import { freshId, Library } from "../project/library.js";
import { askToPersist } from "../project/persistence.js";
import { SavedFiles } from "../project/saved-files.js";
import { Soundness } from "../project/soundness.js";
import { graft } from "../project/graft.js";
import { isOutdated, soundlyCut } from "../project/stash.js";
import { TabGuard } from "../project/tab-guard.js";
import { fileOf, takeSmall } from "../project/travel/pack.js";
import { tellLeft, tellShort } from "../places/short-pictures.js";
import { bare, say } from "../words/words.js";
import { Arrivals } from "./arriving/arrivals.js";
import { openEverything, saveEverything } from "./backup-dialogs.js";
import { offerColourway, showFriendsWork } from "./friend-dialogs.js";
import { keptDialog } from "./kept-dialog.js";
import { leaveDialog } from "./leave-dialog.js";
import { FROM, linkDialog, MOST_NAME } from "./link-dialog.js";
import { ProjectMenu } from "./project-menu.js";
import { Standing } from "./standing.js";
import { thumbnailOf } from "./thumbnail.js";

/** @typedef {import("../places/workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").Project} Project */

/** Where pages of before noted what was open, and this one does for where its database can't be opened in time. */
const LAST = "peekpaper-last";
const LOOK = "peekpaper-look";
const UNITS = "peekpaper-units";
const LINK = /^#p=(.+)$/;

/** Which project is open: brings in, reopens, keeps, sends out and forgets. */
export class Projects {
  /**
   * @param {Workroom} room
   * @param {import("../project/archive.js").Archive} archive
   * @param {{toDesign: () => void, toPapers: () => void}} ways  to the places where a new design, or another's work,
   *   is taken in hand
   */
  constructor(room, archive, ways) {
    this.room = room;
    this.ways = ways;
    /** Aborted once another project is asked for: what was asked for last is opened, in whatever order they come. */
    this.coming = new AbortController();
    this.archive = archive;
    this.soundness = new Soundness();
    this.library = new Library(archive, room.store, this.soundness);
    this.files = new SavedFiles();
    this.standing = new Standing(room, this.files, () => void this.#save());
    this.keeper = new Keeper(room.store, archive, () => thumbnailOf(room), room.bench);
    this.keeper.addEventListener("failed", (event) =>
      this.standing.keepsNothing(/** @type {CustomEvent<unknown>} */ (event).detail),
    );
    this.keeper.addEventListener("saved", () => {
      this.standing.keepsAgain();
      void this.#noteOpen();
      void room.pictures.keepRest();
    });
    /** The project that is noted as the one that is open. */
    this.noted = "";
    /** Takes away the notice that the open project is not kept, or not from here, where that is told. */
    this.untellLost = () => {};
    this.guard = new TabGuard();
    this.arrivals = new Arrivals(room, {
      ask: () => this.#ask(),
      open: async (project, kept, signal) => {
        await this.#open(project, signal);
        this.room.bench.keptPlan = kept;
      },
      stocked: (project) => this.#stocked(project),
      keep: (project, thumbnail) => {
        const { id, name } = project;
        const course = { document: project, past: [], future: [] };
        return archive.save({ id, name, saved: Date.now(), thumbnail, course, views: null });
      },
      openBackup: async (backup) => {
        await this.keeper.save();
        await openEverything(backup, this.#backupTools, () => void this.openMenu());
      },
      attempt: (act, name) => this.#say(act, name),
      toDesign: ways.toDesign,
    });
    this.menu = new ProjectMenu({
      open: () => this.arrivals.pick(),
      paste: () => void this.arrivals.paste(),
      demo: () => void this.#demo(),
      save: () => void this.#save(),
      saveAll: () => void this.#saveAll(),
      standing: () => this.standing.sentences(),
      link: () => void linkDialog(room, () => void this.#save()),
      recent: () => this.#recent(),
      reopen: (id) => void this.#reopen(id),
      more: (entry, changed, opened) => this.#more(entry, changed, opened),
      look: (look) => this.#look(look),
      units: (units) => {
        remember(UNITS, units);
        room.store.edit("units", (project) => ({ ...project, units }));
      },
      leave: (go) => void this.leave(go),
    });
    this.guard.addEventListener("lost", () => this.#standBack());
    room.store.addEventListener("change", (event) => {
      const { step } = /** @type {CustomEvent<import("../project/store.js").Change>} */ (event).detail;
      if (!step) this.#remember();
      else if (step.kind !== "note") void this.files.changed(room.project.id);
      if (step?.kind === "undo" || step?.kind === "redo") void this.#restock().catch(() => {});
    });
    room.stash.addEventListener("change", () => void this.#restock().catch(() => {}));
    room.stash.addEventListener("moved", (event) => {
      const { project, links } = /** @type {CustomEvent<{project: string, links: Record<string, string>}>} */ (event).detail;
      if (room.store.project?.id === project) room.linkTo(links);
    });
    this.keeper.addEventListener("step", () => void askToPersist(), { once: true });
    addEventListener("hashchange", () => {
      const link = LINK.exec(location.hash)?.[1];
      if (link) void this.#openLink(link);
    });
    for (const preference of ["(prefers-color-scheme: dark)", "(prefers-contrast: more)", "(forced-colors: active)"]) {
      matchMedia(preference).addEventListener("change", () => room.repaint(null));
    }
    this.#look(recall(LOOK) ?? "auto");
  }

  /** Opens what the address holds, else the project that was open last, else the demo; then what was sent. */
  async begin() {
    await this.#openFirst();
    await this.arrivals.receive();
  }

  async #openFirst() {
    const link = LINK.exec(location.hash)?.[1];
    if (link && (await this.#openLink(link))) return;
    const signal = this.#ask();
    const last = await this.archive.lastOpen().catch(() => null);
    // Something else was asked for meanwhile.
    if (signal.aborted) return;
    for (const id of new Set([last, recall(LAST)])) if (id && (await this.#openAgain(id))) return;
    await this.#demo();
  }

  /**
   * Opens what was open last, but for a project that twice did not come up.
   *
   * @param {string} id
   */
  async #openAgain(id) {
    if (!attempts.failedAt(id)) return this.#reopen(id);
    const kept = await this.archive.read(id).catch(() => null);
    if (kept) this.#offerAsFile("keep.left-closed", kept);
    return false;
  }

  async openMenu() {
    await this.menu.open(recall(LOOK) ?? "auto", this.room.unit);
  }

  /**
   * Loads the page again where what is here is kept; else the person decides.
   *
   * @param {() => void} go
   * @param {() => void} [stay]  where the person would rather not
   */
  async leave(go, stay = () => {}) {
    if (await this.keeper.save()) go();
    else leaveDialog({ save: () => void this.#save(), go, stay });
  }

  /** Another tab has the project: what is changed here is not kept, unless the person goes on here. */
  #standBack() {
    this.keeper.isPaused = true;
    this.untellLost = this.room.notices.tell(say("keep.other-tab"), {
      stays: true,
      action: { name: say("keep.take-back"), do: () => void this.#goOn() },
    });
  }

  /** Takes the project back from another tab; where it was forgotten meanwhile, it is kept again only if asked for. */
  async #goOn() {
    const { project } = this.room;
    const isForgotten = (await this.archive.read(project.id).catch(() => undefined)) === null;
    // What is here may be older than what the other tab kept: that one stays within reach.
    const open = () => void this.#open(this.room.project, this.#ask());
    if (!isForgotten) {
      open();
      return;
    }
    const action = { name: say("keep.again"), do: open };
    this.untellLost = this.room.notices.tell(say("keep.forgotten"), { stays: true, action });
  }

  /**
   * @param {Project} project
   * @param {AbortSignal} signal  by which it was asked for
   */
  async #open(project, signal) {
    const fresh = { document: project, past: [], future: [] };
    const course = await this.library.over(project).catch(() => null);
    if (signal.aborted) throw new Cancelled();
    this.room.store.open(course ?? fresh);
  }

  /** @returns {Promise<import("../project/archive.js").Entry[] | null>} null where this browser keeps nothing */
  async #recent() {
    await this.keeper.save();
    return this.archive.list().catch(() => null);
  }

  /**
   * @param {import("../project/archive.js").Entry} entry
   * @param {() => void} changed
   * @param {() => void} opened
   */
  #more(entry, changed, opened) {
    const { archive, library } = this;
    const { id } = entry;
    const ways = {
      open: () => this.#reopen(id),
      rename: (/** @type {string} */ name) => library.rename(id, name),
      duplicate: (/** @type {string} */ name) => library.duplicate(id, name),
      forget: () => this.#forget(id),
      versions: () => archive.versions(id),
      backTo: async (/** @type {import("../project/archive.js").Version} */ version) => {
        const course = await library.backTo(version);
        if (course && !(await this.#isBroken({ ...entry, course }))) this.room.store.open(course);
      },
    };
    keptDialog(entry, ways, changed, opened);
  }

  /**
   * A new project with the papers of the stash.
   *
   * @param {Project} project
   */
  async #stocked(project) {
    const { desk, stash } = this.room;
    await Promise.all([stash.begun, this.room.laidIn]);
    return desk.edit({ ...project, units: recall(UNITS) ?? project.units }, "stock", { stash: stash.shelf });
  }

  /**
   * Lets the open project's papers be as they are in the stash by now, and tells where its plan is touched.
   *
   * @returns {Promise<void>}
   */
  async #restock() {
    const { desk, stash, notices, questions, store } = this.room;
    await Promise.all([stash.begun, this.room.laidIn]);
    store.follow((project) => soundlyCut(project, stash.bookings));
    const { project } = this.room;
    if (!project.shelf.papers.some((paper) => isOutdated(paper, project.shelf, stash.shelf))) return;
    const { shelf } = stash;
    const ask = (/** @type {Project} */ asked) => desk.stashTouches(asked, shelf);
    const touches = project.plan.rounds !== null && (await questions.ask("project", ask));
    const after = graft(project, await questions.ask("project", (asked) => desk.edit(asked, "restock", { stash: shelf })));
    // The person, or another tab, went on meanwhile.
    if (this.room.project !== project || stash.shelf !== shelf) {
      if (this.room.project.id === project.id) await this.#restock();
      return;
    }
    store.follow(() => after);
    if (touches) notices.tell(say("stash.touched"), { stays: true });
  }

  async #demo() {
    const signal = this.#ask();
    await this.#say(async () => {
      const first = await builtDemo();
      const project = first ? first.project : await this.room.desk.demo();
      await this.#open(project, signal);
      if (first) this.room.bench.adopt(first);
    });
  }

  /** Asks for a project: what was asked for before and did not come yet is left. @returns {AbortSignal} */
  #ask() {
    this.coming.abort();
    this.coming = new AbortController();
    return this.coming.signal;
  }

  /** @param {string} address  the fragment of a link, and the name of who sent it where that was told */
  async #openLink(address) {
    const [fragment = "", told = ""] = address.split(FROM);
    const by = nameIn(told);
    const away = this.room.notices.tell(say("link.opening"), { stays: true });
    const signal = this.#ask();
    const done = await this.#say(async () => {
      const { project, pictures, kept } = await this.room.desk.openLink(fragment);
      await takeSmall(pictures, this.room.pictures);
      // A copy of one's own, also where the link was made in this very browser.
      const open = async () => {
        await this.#open({ ...project, id: freshId() }, this.#ask());
        this.room.bench.keptPlan = kept;
        this.room.notices.tell(say("link.opened"));
        await tellShort(this.room, project);
      };
      const twin = await this.library.alike(project);
      if (signal.aborted) throw new Cancelled();
      if (twin && (await this.#reopen(twin))) {
        void offerColourway(this.room, project, by, () => void this.#say(open));
        return;
      }
      await open();
      void showFriendsWork(this.room, by, this.ways.toPapers);
    });
    away();
    history.replaceState(history.state, "", location.pathname + location.search);
    return done || signal.aborted;
  }

  /** @param {string} id */
  async #reopen(id) {
    const signal = this.#ask();
    const kept = await this.archive.read(id).catch(() => null);
    const opens = kept !== null && !(await this.#isBroken(kept));
    // Something else was asked for meanwhile.
    if (signal.aborted) return true;
    if (!opens) return false;
    attempts.begin(id);
    this.room.store.open(kept.course);
    this.room.bench.keptPlan = kept.plan ?? null;
    if (kept.views) this.room.bench.adopt(kept.views);
    return true;
  }

  /**
   * Whether a kept project can't be shown; says so, and lets the person have it as a file.
   *
   * @param {Pick<import("../project/archive.js").Kept, "name" | "course">} kept
   */
  async #isBroken({ name, course }) {
    if ((await this.soundness.faultOf(course.document)) === null) return false;
    this.#offerAsFile("keep.broken", { name, course });
    return true;
  }

  /**
   * Tells why a kept project is not shown, and hands it out as it is, with nothing computed of it.
   *
   * @param {"keep.broken" | "keep.left-closed"} why
   * @param {Pick<import("../project/archive.js").Kept, "name" | "course">} kept
   */
  #offerAsFile(why, { name, course: { document } }) {
    const save = () => download(`${name}.json`, new Blob([JSON.stringify(document)], { type: "application/json" }));
    this.room.notices.tell(say(why, { name }), { stays: true, action: { name: say("menu.save"), do: save } });
  }

  /** @param {string} id */
  async #forget(id) {
    const { keeper } = this;
    const isOpen = this.room.store.project?.id === id;
    // Whoever has it open must not save it anew.
    if (!isOpen) await this.guard.evict(id);
    const wasPaused = keeper.isPaused;
    if (isOpen) keeper.isPaused = true;
    try {
      await this.archive.forget(id);
      await this.files.forget(id);
    } catch (error) {
      if (isOpen) keeper.isPaused = wasPaused;
      throw error;
    }
    if (isOpen) {
      await this.#demo();
    }
  }

  async #save() {
    await this.#say(async () => {
      const { project } = this.room;
      const past = this.room.store.course?.past;
      const carried = await this.room.pictures.carried([project]);
      const { name, blob } = await fileOf("project", await this.room.desk.save(project, this.room.bench.keptPlan), carried);
      const before = await this.files.last(project.id);
      const saved = await saveFile(name, blob, before?.handle ?? null);
      if (!saved) return;
      const { handle } = saved;
      await this.files.note(project.id, handle?.name ?? name, handle);
      // What was done while it was packed is not in it.
      if (this.room.store.course?.past !== past) await this.files.changed(project.id);
      if (handle) this.room.notices.tell(say("file.saved", { name: handle.name }));
      tellLeft(this.room, carried);
    });
  }

  async #saveAll() {
    await this.keeper.save();
    await saveEverything(this.#backupTools);
  }

  get #backupTools() {
    const { room, archive, files } = this;
    return { room, archive, files };
  }

  /**
   * Does something that may be refused; says why where it is, and leaves all as it was.
   *
   * @param {() => Promise<void>} act
   * @param {string} [name]  of the file that it is about
   */
  async #say(act, name) {
    try {
      await act();
      return true;
    } catch (error) {
      this.room.notices.tellError(error, { stays: true, name });
      return false;
    }
  }

  #remember() {
    const { id } = this.room.project;
    this.untellLost();
    remember(LAST, id);
    this.noted = "";
    void this.#noteOpen();
    this.guard.take(id);
    this.room.desk.onceReady(() => this.room.project.id === id && void this.#restock().catch(() => {}));
  }

  /** Notes which project is open, unless that stands already: where there was no room, it is noted later. */
  async #noteOpen() {
    const { id } = this.room.project;
    if (this.noted === id) return;
    this.noted = id;
    await this.archive.noteOpen(id).catch(() => {
      this.noted = "";
    });
  }

  /** @param {string} look */
  #look(look) {
    remember(LOOK, look);
    document.documentElement.dataset["look"] = look;
    this.room.repaint(null);
  }
}

/** @param {string} told  as it stands in a link  @returns {string} the name of who sent it, empty where it is none */
function nameIn(told) {
  try {
    return bare(decodeURIComponent(told)).trim().slice(0, MOST_NAME);
  } catch {
    return "";
  }
}

/**
 * The demo as it was computed when the site was built, so that the page can show it at once.
 *
 * @returns {Promise<{project: Project, design: import("../desk/types.js").Design,
 *   backing: import("../desk/types.js").Backing} | null>}
 */
async function builtDemo() {
  const answer = await fetch("demo.json").catch(() => null);
  return answer?.ok ? answer.json() : null;
}
