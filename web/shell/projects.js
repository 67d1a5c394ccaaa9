import { Cancelled, Refusal } from "../words/refusal.js";
import { download } from "../parts/download.js";
import { recall, remember } from "../basics/memory.js";
import { saveFile } from "../parts/save-file.js";
import { attempts } from "../project/attempts.js";
import { Keeper } from "../project/keeper.js";
import { freshId, Library } from "../project/library.js";
import { askToPersist } from "../project/persistence.js";
import { SavedFiles } from "../project/saved-files.js";
import { Soundness } from "../project/soundness.js";
import { graft } from "../project/graft.js";
import { isOutdated, soundlyCut } from "../project/stash.js";
import { TabGuard } from "../project/tab-guard.js";
import { fileOf, takeSmall, withPictures } from "../project/travel/pack.js";
import { Parcel } from "../project/travel/parcel.js";
import { pictureKind } from "../project/travel/picture-kind.js";
import { isZip } from "../project/travel/zip.js";
import { addShelf } from "../places/papers/shelf-files.js";
import { tellLeft, tellShort } from "../places/short-pictures.js";
import { bare, locale, say } from "../words/words.js";
import { openEverything, saveEverything } from "./backup-dialogs.js";
import { offerColourway, showFriendsWork } from "./friend-dialogs.js";
import { Intake } from "./intake.js";
import { keptDialog } from "./kept-dialog.js";
import { leaveDialog } from "./leave-dialog.js";
import { FROM, linkDialog, MOST_NAME } from "./link-dialog.js";
import { ProjectMenu } from "./project-menu.js";
import { Standing } from "./standing.js";
import { thumbnailOf } from "./thumbnail.js";

/** @typedef {import("../places/workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").Project} Project */

/** A byte more than what is read, so that larger files are refused for their size, not read in part. */
const MOST_BYTES = 64 * 1024 * 1024 + 1;
/** How pictures begin that lie within a design's file (RFC 2397). */
const PICTURE_INSIDE = "data:image/";
/** Typefaces, by the ends of names: browsers know no kinds for all. */
const TYPEFACE_NAME = /\.(ttf|otf|ttc|woff2?)$/i;
const NOTHING_DRAWN = "refusal.nothing-but-left-out";
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
    this.intake = new Intake(
      ({ name, file }) => void this.#bring(name, file),
      (picture) => void this.#bringPicture(picture),
      (name) => room.notices.tell(say("stage.unread", { name }), { stays: true }),
      (files) => void this.#bringAll(files),
    );
    /** What sorts out many files, once there are any. @type {Promise<import("./bundle.js").Bundle> | null} */
    this.sorter = null;
    this.menu = new ProjectMenu({
      open: () => this.intake.pick(),
      paste: () => void this.#paste(),
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
    await this.intake.receive();
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

  /** Asks what a picture shows; what that takes is fetched only then. @param {File} file */
  async #bringPicture(file) {
    const { askWhatItShows } = await import("../places/tracing/ask-dialog.js");
    askWhatItShows(this.room, file.name, { design: () => void this.#traceIn(file), paper: () => this.room.bringPhoto(file) });
  }

  /**
   * Opens a new design.
   *
   * @param {Project} project
   * @param {import("../desk/types.js").Design} design  what is seen of it
   * @param {AbortSignal} signal
   */
  async #openNew(project, design, signal) {
    await this.#open(await this.#stocked(project), signal);
    this.room.bench.foresee(design);
    this.room.session.take({ arrived: this.room.project.id });
    this.ways.toDesign();
  }

  /** @returns {Promise<import("./bundle.js").Bundle>} fetched once many files are brought */
  get #bundle() {
    const ways = {
      open: (/** @type {import("./tray-dialog.js").Seen} */ seen, /** @type {AbortSignal} */ signal = this.#ask()) =>
        this.#openNew(seen.project, seen.design, signal),
      picture: (/** @type {File} */ file) => void this.#bringPicture(file),
      keep: async (/** @type {Project} */ project, /** @type {Blob | null} */ picture) =>
        this.#keepBeside(await this.#stocked(project), picture),
    };
    this.sorter ??= import("./bundle.js").then(({ Bundle }) => new Bundle(this.room, ways));
    return this.sorter;
  }

  /**
   * Keeps a project without opening it.
   *
   * @param {Project} project
   * @param {Blob | null} thumbnail
   */
  #keepBeside(project, thumbnail) {
    const { id, name } = project;
    const course = { document: project, past: [], future: [] };
    return this.archive.save({ id, name, saved: Date.now(), thumbnail, course, views: null });
  }

  /** @param {Promise<readonly import("./intake.js").Piece[]>} files */
  async #bringAll(files) {
    const all = await files;
    for (const { path, file } of all) {
      if (!(await isOurs(path, file))) continue;
      // A project is opened by itself: what else came along belongs to no other.
      const others = all.filter((each) => each.path !== path);
      if (others.length > 0) this.#tellLeft(others.map((each) => each.path));
      await this.#bring(path, file);
      return;
    }
    const names = all.map(({ path }) => path.split("/")[0] ?? path);
    const name = new Intl.ListFormat(locale(), { type: "conjunction" }).format([...new Set(names)].slice(0, 3));
    await this.#bringing(name, async (signal) => (await this.#bundle).sortOut(all, signal));
  }

  /**
   * @param {string} name
   * @param {Blob} file
   */
  async #bring(name, file) {
    await this.#bringing(name, async (signal) =>
      (await isZip(file, name)) ? this.#unpack(name, file, signal) : this.#read(name, file, signal),
    );
  }

  /**
   * Opens something new while what is open stays, with a way to stop it.
   *
   * @param {string} name
   * @param {(signal: AbortSignal) => Promise<void>} bring
   */
  async #bringing(name, bring) {
    const { notices } = this.room;
    const signal = this.#ask();
    const leave = () => this.#tellLeft([name]);
    const stop = () => {
      signal.removeEventListener("abort", leave);
      if (!signal.aborted) this.#ask();
    };
    const action = { name: say("act.stop"), do: stop };
    const read = notices.tell(say("stage.reading", { name }), { stays: true, action });
    signal.addEventListener("abort", leave);
    await this.#say(() => bring(signal), name);
    signal.removeEventListener("abort", leave);
    read();
  }

  /**
   * @param {string} name
   * @param {Blob} file
   * @param {AbortSignal} signal
   */
  async #read(name, file, signal) {
    if (await pictureKind(file)) {
      await this.#bringPicture(new File([file], name));
      return;
    }
    if (TYPEFACE_NAME.test(name)) {
      await this.#letter(name, file);
      return;
    }
    const opened = await this.room.desk
      .open(name, await file.slice(0, MOST_BYTES).arrayBuffer(), signal)
      .catch((error) => this.#offerWords(name, file, error))
      .finally(() => void this.#offerPictureIn(name, file, signal).catch(() => {}));
    if (opened.kind === "shelf") {
      await addShelf(this.room, name, file);
      return;
    }
    if (opened.kind === "pages") {
      (await this.#bundle).choosePage(name, file, opened.count);
      return;
    }
    const { project } = opened;
    if (opened.kind === "design") await this.#openNew(opened.project, opened.design, signal);
    else await this.#open(project, signal);
    await tellShort(this.room, project);
  }

  /**
   * Draws words of the open design in a typeface that was brought.
   *
   * @param {string} name
   * @param {Blob} file
   */
  async #letter(name, file) {
    const { desk, project } = this.room;
    if ((await desk.words(project)).length === 0) throw new Refusal({ key: "refusal.typeface-alone", figures: { name } });
    const { drawIn } = await import("../places/lettering/lettering-dialog.js");
    await drawIn(this.room, { typefaces: [await file.arrayBuffer()], standIn: false });
  }

  /**
   * Asks for a typeface where a file can't be opened for being nothing but words; else passes on what is wrong.
   *
   * @param {string} name
   * @param {Blob} file
   * @param {unknown} error
   * @returns {Promise<never>}
   */
  async #offerWords(name, file, error) {
    if (!(error instanceof Refusal) || error.said.key !== NOTHING_DRAWN) throw error;
    const bytes = () => file.slice(0, MOST_BYTES).arrayBuffer();
    const words = await this.room.desk.words(await bytes()).catch(() => []);
    if (words.length === 0) throw error;
    const { LetteringDialog } = await import("../places/lettering/lettering-dialog.js");
    const draw = async (/** @type {import("../desk/types.js").Lettering} */ lettering) => {
      const signal = this.#ask();
      const opened = await this.room.desk.open(name, await bytes(), signal, 1, lettering);
      if (opened.kind === "design") await this.#openNew(opened.project, opened.design, signal);
      return [];
    };
    new LetteringDialog(this.room, words, draw).open();
    throw new Cancelled();
  }

  /**
   * Offers to trace a picture that a design's file holds.
   *
   * @param {string} name
   * @param {Blob} file
   * @param {AbortSignal} signal  by which the design was asked for
   */
  async #offerPictureIn(name, file, signal) {
    const part = file.slice(0, MOST_BYTES);
    if (!(await part.text()).includes(PICTURE_INSIDE)) return;
    const bytes = await this.room.desk.pictureIn(await part.arrayBuffer());
    if (!bytes || signal.aborted) return;
    const trace = () => void this.#traceIn(new File([bytes], name));
    const action = { name: say("trace.inside-action"), do: trace };
    this.room.notices.tell(say("trace.inside", { name }), { stays: true, outlasts: true, action });
  }

  /** Fetches what tracing takes, and asks how. @param {File} picture */
  async #traceIn(picture) {
    const { designFromPicture } = await import("../places/tracing/tracing-dialog.js");
    await designFromPicture(this.room, picture, (svg) => void this.#bring(picture.name, new Blob([svg])));
  }

  /**
   * Opens a file that pictures came with.
   *
   * @param {string} name
   * @param {Blob} file
   * @param {AbortSignal} signal
   */
  async #unpack(name, file, signal) {
    const parcel = await Parcel.open(file).catch((error) => {
      if (error instanceof Refusal && error.said.key === "refusal.zip-none-of-ours") return null;
      throw error;
    });
    if (!parcel) {
      await (await this.#bundle).sortOut([{ path: name, file }], signal);
      return;
    }
    if (parcel.kind === "shelf") {
      await addShelf(this.room, name, file);
      return;
    }
    if (parcel.kind === "backup") {
      await this.keeper.save();
      await openEverything(parcel, this.#backupTools, () => void this.openMenu());
      return;
    }
    const text = new TextEncoder().encode(await parcel.text());
    const { project } = await this.room.desk.open(name, text.buffer, signal);
    if (!project) throw new Refusal({ key: "refusal.zip-none-of-ours", figures: {} });
    const own = await withPictures(parcel, project, this.room.pictures);
    await this.#open(own, signal);
    await tellShort(this.room, own);
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

  /** Tells that files were not opened, since another was; so it must outlast the opening. @param {string[]} names */
  #tellLeft(names) {
    const list = new Intl.ListFormat(locale(), { type: "conjunction" }).format(names);
    this.room.notices.tell(say("stage.left", { name: list, count: names.length }), { stays: true, outlasts: true });
  }

  /** Asks for a project: what was asked for before and did not come yet is left. @returns {AbortSignal} */
  #ask() {
    this.coming.abort();
    this.coming = new AbortController();
    return this.coming.signal;
  }

  async #paste() {
    if (!(await this.intake.paste())) this.room.notices.tell(say("menu.nothing-to-paste"));
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
      const { name, blob } = await fileOf("project", await this.room.desk.save(project), carried);
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
 * Whether a file holds a project, a shelf or a backup of this page's.
 *
 * @param {string} name
 * @param {Blob} file
 */
async function isOurs(name, file) {
  if (name.toLowerCase().endsWith(".json")) return true;
  if (!(await isZip(file, name).catch(() => false))) return false;
  return Parcel.open(file).then(() => true, () => false);
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
