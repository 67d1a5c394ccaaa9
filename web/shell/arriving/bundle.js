import { papersFromFiles } from "../../places/papers/photos/collection-dialog.js";
import { make } from "../../parts/dom.js";
import { writeAbout } from "../../words/lengths.js";
import { sayMessage } from "../../words/messages.js";
import { Cancelled, Refusal } from "../../words/refusal.js";
import { sentenceOf } from "../../words/sentence.js";
import { bare, locale, say } from "../../words/words.js";
import { gathered } from "./gathered.js";
import { trayDialog } from "./tray-dialog.js";

/** @typedef {import("../../desk/types.js").Project} Project */
/** @typedef {import("./gathered.js").Piece} Piece */
/** @typedef {import("./tray-dialog.js").Found} Found */
/** @typedef {import("./tray-dialog.js").Seen} Seen */

/** More are a shop, and each takes a second to read. */
const MOST_DESIGNS = 60;
const MOST_BYTES = 64 * 1024 * 1024 + 1;
/** Kinds of pictures by the ends of names: what lies in a zip is told no kind. @type {Readonly<Record<string, string>>} */
const TYPES = { jpg: "image/jpeg", jpeg: "image/jpeg", png: "image/png", webp: "image/webp", gif: "image/gif", avif: "image/avif", heic: "image/heic" };

/** What becomes of files that came together: one design opens, of several the person chooses, papers are offered. */
export class Bundle {
  /**
   * @param {import("../../places/workroom.js").Workroom} room
   * @param {{open: (seen: Seen, signal?: AbortSignal) => Promise<void>, keep: (project: Project, picture: Blob | null) => Promise<void>, picture: (file: File) => void}} ways
   */
  constructor(room, ways) {
    this.room = room;
    this.ways = ways;
    /** Typefaces that came along, and those of them that words are drawn in. @type {Piece[]} */
    this.typefaces = [];
    /** @type {Set<Piece>} */
    this.drawnIn = new Set();
  }

  /**
   * @param {readonly {path: string, file: File | Blob}[]} files
   * @param {AbortSignal} signal
   * @throws {Refusal} where nothing in them is of use
   */
  async sortOut(files, signal) {
    const { desk } = this.room;
    const { pieces, unread } = await gathered(files);
    const heads = await Promise.all(pieces.map((piece) => piece.head().then((head) => head.arrayBuffer(), () => new ArrayBuffer(0))));
    const told = pieces.map(({ path, size }) => ({ path, size }));
    const { designs, is_plain, papers, typefaces, unused } = await desk.sortFiles(told, heads, signal);
    this.typefaces = typefaces.map((number) => pieceOf(pieces, number));
    const found = designs.slice(0, MOST_DESIGNS).map((each) => ({ ...each, form: formOf(pieceOf(pieces, each.files[0])) }));
    const broken = unread.map(({ path, error }) => ({ path, why: String(sentenceOf(error)) }));
    const pictures = papers.map((number) => pieceOf(pieces, number));
    const [first, ...others] = found;
    if (!first && pictures.length === 0) {
      const [one] = unread;
      if (one && pieces.length === 0) throw one.error;
      throw new Refusal({ key: "refusal.bundle-nothing", figures: {} });
    }
    if (first && is_plain) {
      const seen = await this.#see(first, pieces, signal);
      await this.ways.open(seen, signal);
      if (others.length > 0) {
        const action = { name: say("tray.show"), do: () => this.#choose(found, pieces) };
        this.room.notices.tell(say("tray.more", { count: others.length }), { stays: true, outlasts: true, action });
      }
    } else if (first) this.#choose(found, pieces);
    const [picture] = pictures;
    if (!first && picture && pictures.length === 1) this.ways.picture(await fileOf(picture));
    else this.#offer(pictures, !first);
    const left = unused.filter(({ file }) => !this.drawnIn.has(pieceOf(pieces, file)));
    this.#tellUnused([...broken, ...left.map(({ file, why }) => ({ path: pieceOf(pieces, file).path, why: sayMessage(why, this.room.unit) }))]);
  }

  /**
   * Reads a design from the best of its files that can be read.
   *
   * @param {Found} found
   * @param {readonly Piece[]} pieces
   * @param {AbortSignal} [signal]
   * @returns {Promise<Seen>}
   */
  async #see(found, pieces, signal = new AbortController().signal) {
    let first = null;
    for (const number of found.files) {
      const piece = pieceOf(pieces, number);
      try {
        const bytes = await (await piece.whole()).slice(0, MOST_BYTES).arrayBuffer();
        const name = `${found.name}.${endingOf(piece)}`;
        let opened = await this.room.desk.open(name, bytes.slice(0), signal, found.page);
        if (opened.kind === "pages") opened = await this.room.desk.open(name, bytes, signal, 1);
        if (opened.kind === "design") return await this.#lettered(opened, signal);
      } catch (error) {
        if (error instanceof Cancelled) throw error;
        first ??= error;
      }
    }
    throw first ?? new Refusal({ key: "refusal.bundle-nothing", figures: {} });
  }

  /**
   * Draws words in the typefaces that came along, as far as these can be read.
   *
   * @param {Seen} seen
   * @param {AbortSignal} signal
   * @returns {Promise<Seen>}
   */
  async #lettered({ project, design }, signal) {
    const { desk } = this.room;
    let lettered = project;
    for (const piece of this.typefaces) {
      if ((await desk.words(lettered)).length === 0) break;
      const typefaces = [await (await piece.whole()).arrayBuffer()];
      const answer = await desk.letter(lettered, { typefaces, standIn: false }).catch(() => null);
      if (!answer || answer.project.source.svg === lettered.source.svg) continue;
      lettered = answer.project;
      this.drawnIn.add(piece);
    }
    return { project: lettered, design: lettered === project ? design : await desk.design(lettered, () => {}, signal) };
  }

  /**
   * Shows the pages of a file, to open one of them.
   *
   * @param {string} name
   * @param {Blob} file
   * @param {number} count
   */
  choosePage(name, file, count) {
    const stem = name.replace(/\.\w+$/, "");
    const pages = Array.from({ length: Math.min(count, MOST_DESIGNS) }, (_, index) => ({
      name: bare(say("tray.page", { name: stem, number: index + 1 })),
      form: "PDF",
      files: [0],
      page: index + 1,
    }));
    const whole = async () => file;
    this.#choose(pages, [{ path: name, size: file.size, head: whole, whole }], say("tray.pages", { count }), false);
  }

  /**
   * @param {readonly Found[]} found
   * @param {readonly Piece[]} pieces
   * @param {string} [title]
   * @param {boolean} [keepsOthers]
   */
  #choose(found, pieces, title = say("tray.title", { count: found.length }), keepsOthers = true) {
    const { room, ways } = this;
    trayDialog(found, {
      title,
      keepsOthers,
      read: (each, signal) => this.#see(each, pieces, signal),
      size: (design) => writeAbout([design.width_mm, design.height_mm], room.unit),
      look: room.project.look,
      open: (seen) => void ways.open(seen).catch((error) => room.notices.tellError(error)),
      keep: ({ project }, picture) => ways.keep(project, picture),
      kept: (count) => room.notices.tell(say("tray.kept", { count })),
      fail: (error) => room.notices.tellError(error, { stays: true }),
    });
  }

  /**
   * @param {readonly Piece[]} pictures
   * @param {boolean} atOnce  there is nothing else
   */
  #offer(pictures, atOnce) {
    if (pictures.length === 0) return;
    const take = async () => {
      await papersFromFiles(this.room, await Promise.all(pictures.map(fileOf)));
    };
    const act = () => void take().catch((error) => this.room.notices.tellError(error));
    if (atOnce) act();
    else {
      const action = { name: say("tray.shelve"), do: act };
      this.room.notices.tell(say("tray.papers", { count: pictures.length }), { stays: true, outlasts: true, action });
    }
  }

  /** Names each file that is of no use once, with the reason. @param {readonly {path: string, why: string}[]} unused */
  #tellUnused(unused) {
    if (unused.length === 0) return;
    const list = new Intl.ListFormat(locale(), { type: "conjunction" });
    const reasons = [...new Set(unused.map(({ why }) => why))];
    const more = reasons.map((why) => {
      const names = unused.filter((each) => each.why === why).map(({ path }) => path.split("/").at(-1) ?? path);
      return make("p", {}, say("tray.unused-why", { names: list.format(names), why }));
    });
    this.room.notices.tell(say("tray.unused", { count: unused.length }), { stays: true, outlasts: true, more });
  }
}

/** @param {Piece} piece  @returns {Promise<File>} a picture with its kind */
async function fileOf(piece) {
  return new File([await piece.whole()], nameOf(piece), { type: TYPES[endingOf(piece)] ?? "" });
}

/**
 * @param {readonly Piece[]} pieces
 * @param {number | undefined} number
 */
function pieceOf(pieces, number) {
  return /** @type {Piece} */ (pieces[number ?? -1]);
}

/** @param {Piece} piece */
function nameOf({ path }) {
  return path.split("/").at(-1) ?? path;
}

/** @param {Piece} piece */
function endingOf(piece) {
  return (nameOf(piece).split(".").at(-1) ?? "").toLowerCase();
}

/** @param {Piece} piece */
function formOf(piece) {
  return endingOf(piece).toUpperCase();
}
