import { addShelf } from "../../places/papers/shelf-files.js";
import { tellShort } from "../../places/short-pictures.js";
import { withPictures } from "../../project/travel/pack.js";
import { Parcel } from "../../project/travel/parcel.js";
import { pictureKind } from "../../project/travel/picture-kind.js";
import { isZip } from "../../project/travel/zip.js";
import { Cancelled, Refusal } from "../../words/refusal.js";
import { locale, say } from "../../words/words.js";
import { Intake } from "./intake.js";

/** @typedef {import("../../desk/types.js").Project} Project */

/** A byte more than what is read, so that larger files are refused for their size, not read in part. */
const MOST_BYTES = 64 * 1024 * 1024 + 1;
/** How pictures begin that lie within a design's file (RFC 2397). */
const PICTURE_INSIDE = "data:image/";
/** Typefaces, by the ends of names: browsers know no kinds for all. */
const TYPEFACE_NAME = /\.(ttf|otf|ttc|woff2?)$/i;
const NOTHING_DRAWN = "refusal.nothing-but-left-out";

/**
 * What opening something new takes of the projects.
 *
 * @typedef {object} Projects
 * @property {() => AbortSignal} ask  leaves what was asked for before and did not come yet
 * @property {(project: Project, kept: unknown, signal: AbortSignal) => Promise<void>} open  with what is kept of its plan
 * @property {(project: Project) => Promise<Project>} stocked  with the papers of the stash
 * @property {(project: Project, thumbnail: Blob | null) => Promise<void>} keep  without opening it
 * @property {(backup: Parcel) => Promise<void>} openBackup
 * @property {(act: () => Promise<void>, name: string) => Promise<boolean>} attempt  tells why where it is refused
 * @property {() => void} toDesign
 */

/** Brings in what was given: files of all kinds, one or many. */
export class Arrivals {
  /**
   * @param {import("../../places/workroom.js").Workroom} room
   * @param {Projects} projects
   */
  constructor(room, projects) {
    this.room = room;
    this.projects = projects;
    this.intake = new Intake(
      ({ name, file }) => void this.#bring(name, file),
      (picture) => void this.#bringPicture(picture),
      (name) => room.notices.tell(say("stage.unread", { name }), { stays: true }),
      (files) => void this.#bringAll(files),
    );
    /** What sorts out many files, once there are any. @type {Promise<import("./bundle.js").Bundle> | null} */
    this.sorter = null;
  }

  /** Opens what was shared with the page, or opened with it. */
  async receive() {
    await this.intake.receive();
  }

  /** Lets the person choose files. */
  pick() {
    this.intake.pick();
  }

  /** Brings in what was copied. */
  async paste() {
    if (!(await this.intake.paste())) this.room.notices.tell(say("menu.nothing-to-paste"));
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

  /** Asks what a picture shows; what that takes is fetched only then. @param {File} file */
  async #bringPicture(file) {
    const { askWhatItShows } = await import("../../places/tracing/ask-dialog.js");
    askWhatItShows(this.room, file.name, { design: () => void this.#traceIn(file), paper: () => this.room.bringPhoto(file) });
  }

  /**
   * Opens something new while what is open stays, with a way to stop it.
   *
   * @param {string} name
   * @param {(signal: AbortSignal) => Promise<void>} bring
   */
  async #bringing(name, bring) {
    const { notices } = this.room;
    const signal = this.projects.ask();
    const leave = () => this.#tellLeft([name]);
    const stop = () => {
      signal.removeEventListener("abort", leave);
      if (!signal.aborted) this.projects.ask();
    };
    const action = { name: say("act.stop"), do: stop };
    const read = notices.tell(say("stage.reading", { name }), { stays: true, action });
    signal.addEventListener("abort", leave);
    await this.projects.attempt(() => bring(signal), name);
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
    else await this.projects.open(project, opened.kept, signal);
    await tellShort(this.room, project);
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
      await this.projects.openBackup(parcel);
      return;
    }
    const text = new TextEncoder().encode(await parcel.text());
    const opened = await this.room.desk.open(name, text.buffer, signal);
    if (opened.kind !== "project") throw new Refusal({ key: "refusal.zip-none-of-ours", figures: {} });
    const own = await withPictures(parcel, opened.project, this.room.pictures);
    await this.projects.open(own, opened.kept, signal);
    await tellShort(this.room, own);
  }

  /**
   * Opens a new design.
   *
   * @param {Project} project
   * @param {import("../../desk/types.js").Design} design  what is seen of it
   * @param {AbortSignal} signal
   */
  async #openNew(project, design, signal) {
    await this.projects.open(await this.projects.stocked(project), null, signal);
    this.room.bench.foresee(design);
    this.room.session.take({ arrived: this.room.project.id });
    this.projects.toDesign();
  }

  /** @returns {Promise<import("./bundle.js").Bundle>} fetched once many files are brought */
  get #bundle() {
    const ways = {
      open: (/** @type {import("./tray-dialog.js").Seen} */ seen, /** @type {AbortSignal} */ signal = this.projects.ask()) =>
        this.#openNew(seen.project, seen.design, signal),
      picture: (/** @type {File} */ file) => void this.#bringPicture(file),
      keep: async (/** @type {Project} */ project, /** @type {Blob | null} */ picture) =>
        this.projects.keep(await this.projects.stocked(project), picture),
    };
    this.sorter ??= import("./bundle.js").then(({ Bundle }) => new Bundle(this.room, ways));
    return this.sorter;
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
    const { drawIn } = await import("../../places/lettering/lettering-dialog.js");
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
    const { LetteringDialog } = await import("../../places/lettering/lettering-dialog.js");
    const draw = async (/** @type {import("../../desk/types.js").Lettering} */ lettering) => {
      const signal = this.projects.ask();
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
    const { designFromPicture } = await import("../../places/tracing/tracing-dialog.js");
    await designFromPicture(this.room, picture, (svg) => void this.#bring(picture.name, new Blob([svg])));
  }

  /** Tells that files were not opened, since another was; so it must outlast the opening. @param {string[]} names */
  #tellLeft(names) {
    const list = new Intl.ListFormat(locale(), { type: "conjunction" }).format(names);
    this.room.notices.tell(say("stage.left", { name: list, count: names.length }), { stays: true, outlasts: true });
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
