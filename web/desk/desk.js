import { chosen } from "../project/edits.js";
import { UnknownSource } from "./messenger.js";
import { seekPlan } from "./packing.js";
import { Sources } from "./sources.js";
import { spokenFile } from "../words/words.js";

/** @typedef {import("./messenger.js").Messenger} Messenger */
/** @typedef {import("./types.js").Project} Project */
/** @typedef {import("./types.js").Lettering} Lettering */
/** @typedef {import("./types.js").Words} Words */

/** The edit that may put papers on the shelf, which are named in the language of the page. */
const READ_AGAIN = "read_again";

/**
 * The package's calls, each with its types; see `py/peekpaper/desk`. A project's design file goes over once
 * and is named by key from then on.
 */
export class Desk {
  /**
   * @param {Messenger} messenger
   * @param {import("./pool.js").Pool} pool
   */
  constructor(messenger, pool) {
    this.messenger = messenger;
    this.pool = pool;
    this.sources = new Sources(messenger);
  }

  /** Does something at once where Python is there, else as soon as it is. @param {() => void} act */
  onceReady(act) {
    if (this.messenger.ready) act();
    else this.messenger.addEventListener("ready", act, { once: true });
  }

  /**
   * A plan may be sought soon: starts what seeks it, and keeps it awake; not while Python itself is starting.
   *
   * @param {Project} project
   */
  packSoon(project) {
    if (this.messenger.ready) this.pool.wake(new Set(Object.values(chosen(project).papers)).size);
  }

  /** @returns {Promise<Project>} */
  async demo() {
    return (await this.messenger.ask("demo", {})).result.project;
  }

  /**
   * @param {string} name
   * @param {ArrayBuffer} bytes
   * @param {AbortSignal} signal
   * @param {number} [page]  of a file of several, from 1
   * @param {Lettering} [lettering]  for words in it
   * @returns {Promise<{project: Project, kind: "design", design: import("./types.js").Design} |
   *   {project: Project, kind: "project", design: null, kept: unknown} | {project: null, kind: "shelf"} |
   *   {project: null, kind: "pages", count: number}>}  with a new design, what is seen of it, with a project what is kept of its plan; a shelf file goes onto
   *   the shelf of a project, and is none itself; of several pages one is to be told
   */
  async open(name, bytes, signal, page, lettering) {
    const [told, typefaces] = lettering ? toldOf(lettering, 1) : [{}, []];
    const args = { name, file: { buffer: 0 }, words: spokenFile(), ...(page ? { page } : {}), ...told };
    return (await this.messenger.ask("open", args, { buffers: [bytes, ...typefaces], signal })).result;
  }

  /**
   * @param {Project | ArrayBuffer} design  a project, or a design's file
   * @returns {Promise<Words[]>} what in it is not drawn in the file's own typeface
   */
  async words(design) {
    if (!(design instanceof ArrayBuffer)) return (await this.#about(design, "words")).words;
    return (await this.messenger.ask("words", { file: { buffer: 0 } }, { buffers: [design] })).result.words;
  }

  /**
   * @param {Project} project
   * @param {Lettering} lettering
   * @returns {Promise<{project: Project, words: Words[]}>} the project with words drawn, and those that are not drawn
   *   in their own typeface
   */
  async letter(project, lettering) {
    const [told, buffers] = toldOf(lettering, 0);
    const { project: changed, svg, words } = await this.#about(project, "letter", told, { buffers });
    return { project: { ...changed, source: { ...project.source, svg } }, words };
  }

  /**
   * @param {readonly {path: string, size: number}[]} files  that came together
   * @param {ArrayBuffer[]} heads  how each of them begins
   * @param {AbortSignal} signal
   * @returns {Promise<{designs: {name: string, files: number[]}[], is_plain: boolean, papers: number[], typefaces: number[],
   *   unused: {file: number, why: import("./types.js").Message}[]}>}  files by their numbers
   */
  async sortFiles(files, heads, signal) {
    const args = { files: files.map((each, buffer) => ({ ...each, head: { buffer } })) };
    return (await this.messenger.ask("sort_files", args, { buffers: heads, signal })).result;
  }

  /**
   * @param {Project} project
   * @param {(preview: import("./types.js").Design) => void} progress
   * @param {AbortSignal} signal
   * @returns {Promise<import("./types.js").Design>}
   */
  design(project, progress, signal) {
    return this.#about(project, "design", {}, { progress, signal });
  }

  /**
   * @param {Project} project
   * @returns {Promise<import("./types.js").Design>} what can be seen of its design soonest
   */
  designSeen(project) {
    return this.#about(project, "design_seen");
  }

  /**
   * @param {Project} project
   * @returns {Promise<{backing: import("./types.js").Backing | null}>} what mends changed of the last backing, null
   *   where only all anew tells
   */
  backingTouchedUp(project) {
    return this.#about(project, "backing_touched_up");
  }

  /**
   * @param {Project} project
   * @param {(preview: import("./types.js").Backing) => void} progress
   * @param {AbortSignal} signal
   * @returns {Promise<import("./types.js").Backing>}
   */
  backing(project, progress, signal) {
    return this.#about(project, "backing", {}, { progress, signal });
  }

  /**
   * @param {Project} project
   * @param {AbortSignal} signal
   * @returns {Promise<{readings: import("./types.js").PossibleReading[]}>} the ways of reading its file, likeliest first
   */
  readings(project, signal) {
    return this.#about(project, "readings", {}, { signal });
  }

  /**
   * @param {Project} project
   * @param {AbortSignal} signal
   * @param {(soFar: import("./types.js").ProposedMends) => void} progress
   * @returns {Promise<import("./types.js").ProposedMends>}
   */
  mends(project, signal, progress) {
    return this.#about(project, "mends", {}, { signal, progress });
  }

  /**
   * @param {Project} project
   * @param {AbortSignal} signal
   * @param {(soFar: {found: number}) => void} progress
   * @returns {Promise<import("./types.js").AllMends>}
   */
  mendAll(project, signal, progress) {
    return this.#about(project, "mend_all", {}, { signal, progress });
  }

  /**
   * @param {Project} project
   * @param {AbortSignal} signal
   * @param {(tried: {choices: import("./types.js").LighterMend[]}) => void} progress
   * @returns {Promise<{choices: import("./types.js").LighterMend[]}>} how much mending all changes, and what would change less
   */
  lighter(project, signal, progress) {
    return this.#about(project, "lighter", {}, { signal, progress });
  }

  /** @returns {Promise<{shapes: {shape: string, path: string}[]}>} simple shapes to cut, about the origin, of radius 1 */
  async cutShapes() {
    return (await this.messenger.ask("cut_shapes", {})).result;
  }

  /**
   * @param {Project} project
   * @param {import("./types.js").Change} change  as drawn, in mm
   * @param {string} [id]  of the mend whose place it is to take
   * @returns {Promise<import("./types.js").TriedMend>}
   */
  tryMend(project, change, id) {
    return this.#about(project, "try_mend", id ? { change, id } : { change });
  }

  /**
   * Seeks a plan with all cores there are.
   *
   * @param {Project} project
   * @param {number} seconds
   * @param {unknown} kept  of a plan found before, to go on from; null without
   * @param {(plan: Partial<import("./types.js").Plan> & {elapsed_s: number}) => void} progress
   * @param {AbortSignal} signal
   * @returns {Promise<import("./types.js").Plan & {kept: unknown}>}
   */
  plan(project, seconds, kept, progress, signal) {
    return seekPlan(this, project, seconds, kept, progress, signal);
  }

  /**
   * The same by the one worker that answers all calls; in no time what is known, or a first plan.
   *
   * @param {Project} project
   * @param {number} seconds
   * @param {unknown} kept
   * @param {(plan: Partial<import("./types.js").Plan> & {elapsed_s: number}) => void} progress
   * @param {AbortSignal} signal
   * @returns {Promise<import("./types.js").Plan & {kept: unknown}>}
   */
  planAlone(project, seconds, kept, progress, signal) {
    return this.#about(project, "plan", { seconds, kept }, { progress, signal });
  }

  /**
   * @param {Project} project
   * @param {number} seconds
   * @param {unknown} kept
   * @param {AbortSignal} signal
   * @returns {Promise<{plan: import("./types.js").Plan & {kept: unknown} | null, work: import("./packing.js").Work[]}>}
   *   what is known, and what packers are given to find better; no work where the known is all that is asked for
   */
  packing(project, seconds, kept, signal) {
    return this.#about(project, "packing", { seconds, kept }, { signal });
  }

  /**
   * @param {Project} project
   * @param {Readonly<Record<string, string>>} found  by packers, by paper
   * @param {boolean} is_all  whether they are through
   * @param {AbortSignal} signal
   * @returns {Promise<import("./types.js").Plan & {kept: unknown}>} the plan of that, to keep once they are through
   */
  packed(project, found, is_all, signal) {
    return this.#about(project, "packed", { found, is_all }, { signal });
  }

  /**
   * @param {Project} project
   * @returns {Promise<import("./types.js").Preview>}
   */
  preview(project) {
    return this.#about(project, "preview");
  }

  /**
   * @param {Project} project
   * @param {string} trim
   * @param {number} piece
   * @param {import("./types.js").PiecePlace} wanted
   * @returns {Promise<import("./types.js").Landing<import("./types.js").PiecePlace>>} the nearest allowed place
   */
  placePiece(project, trim, piece, wanted) {
    return this.#about(project, "place_piece", { trim, piece, ...wanted });
  }

  /**
   * @param {Project} project
   * @param {string} trim
   * @param {import("./types.js").TrimPlace} wanted
   * @returns {Promise<import("./types.js").Landing<import("./types.js").TrimPlace>>} the nearest free place on the
   *   mat's grid
   */
  placeTrim(project, trim, wanted) {
    return this.#about(project, "place_trim", { trim, ...wanted });
  }

  /**
   * @param {Project} project
   * @param {number} seconds  that one cut of the last plan took
   * @returns {Promise<import("./types.js").CutSpeed>}
   */
  async calibrate(project, seconds) {
    return (await this.#about(project, "calibrate", { seconds })).speed;
  }

  /**
   * @param {Project} project
   * @param {import("./types.js").Wish} wish
   * @param {(soFar: import("./types.js").Suggestion) => void} progress
   * @param {AbortSignal} signal
   * @returns {Promise<import("./types.js").Suggestion>}
   */
  suggest(project, wish, progress, signal) {
    return this.#about(project, "suggest", { wish }, { progress, signal });
  }

  /**
   * @param {Project} project
   * @param {AbortSignal} signal
   * @returns {Promise<import("./types.js").Likeness>}
   */
  likeness(project, signal) {
    return this.#about(project, "likeness", {}, { signal });
  }

  /**
   * @param {Project} project
   * @param {AbortSignal} signal
   * @returns {Promise<number[][]>} the openings of each motif that is found
   */
  async motifs(project, signal) {
    return (await this.#about(project, "motifs", {}, { signal })).motifs;
  }

  /**
   * Changes a project by the package's own rules; see `py/peekpaper/desk/editing.py`.
   *
   * @param {Project} project
   * @param {string} edit
   * @param {Record<string, unknown>} to
   * @returns {Promise<Project>}
   */
  async edit(project, edit, to) {
    const words = edit === READ_AGAIN ? { words: spokenFile() } : {};
    const changed = (await this.#about(project, "edit", { edit, to, ...words })).project;
    return { ...changed, source: project.source };
  }

  /**
   * @param {Project} project
   * @param {string} paper  its id
   * @returns {Promise<{colourway: string, openings: number}[]>} where a paper is in use
   */
  async uses(project, paper) {
    return (await this.#about(project, "uses", { paper })).uses;
  }

  /**
   * @param {Project} project
   * @param {import("./types.js").Shelf} stash
   * @param {readonly string[]} papers  ids in the project
   * @returns {Promise<{stash: import("./types.js").Shelf, links: Record<string, string>}>}
   */
  layIn(project, stash, papers) {
    return this.#about(project, "lay_in", { stash, papers });
  }

  /**
   * @param {import("./types.js").Shelf} stash
   * @returns {Promise<{orders: Record<string, string[]>, used_up: string[], low: string[]}>} paper ids by order of colour
   */
  async stashView(stash) {
    return (await this.messenger.ask("stash_view", { stash })).result;
  }

  /**
   * @param {import("./types.js").Shelf} stash
   * @param {readonly import("./types.js").Need[]} needs
   * @param {string} unit  of the table's lengths
   * @returns {Promise<{rows: import("./types.js").ReorderRow[], table: Uint8Array<ArrayBuffer>}>} what to buy, also as CSV
   */
  async reorder(stash, needs, unit) {
    const { result, buffers } = await this.messenger.ask("reorder", { words: spokenFile(), stash, needs, unit });
    return { rows: result.rows, table: /** @type {Uint8Array<ArrayBuffer>} */ (buffers[result.table.buffer]) };
  }

  /**
   * @param {Project} project
   * @param {import("./types.js").Shelf} stash
   * @returns {Promise<boolean>} whether the stash as it is by now changes what the project's plan goes by
   */
  async stashTouches(project, stash) {
    return (await this.#about(project, "stash_touches", { stash })).touches;
  }

  /**
   * What the last plan takes from the stash and gives back.
   *
   * @param {Project} project
   * @param {import("./types.js").Shelf} stash
   * @returns {Promise<{stash: import("./types.js").Shelf, taken: import("./types.js").Taken[], cut: import("./types.js").Cut}>}
   */
  book(project, stash) {
    return this.#about(project, "book", { stash });
  }

  /**
   * @param {import("./types.js").Shelf} stash
   * @param {readonly import("./types.js").Taken[]} taken
   * @returns {Promise<{stash: import("./types.js").Shelf}>} the stash as if that had not been taken
   */
  async takeBack(stash, taken) {
    return (await this.messenger.ask("take_back", { stash, taken })).result;
  }

  /**
   * @param {unknown} history  of cuts, from elsewhere
   * @returns {Promise<{bookings: import("./types.js").Booking[]}>} the same; rejects where it is none
   */
  async readHistory(history) {
    return (await this.messenger.ask("read_history", { history })).result;
  }

  /**
   * @param {import("./types.js").Shelf} stash
   * @returns {Promise<{name: string, text: string}>}
   */
  async saveStash(stash) {
    return (await this.messenger.ask("save_stash", { stash })).result;
  }

  /**
   * @param {Project} project
   * @param {import("./types.js").Shelf} stash
   * @param {string} text  of a shelf file
   * @returns {Promise<{stash: import("./types.js").Shelf}>}
   */
  addToStash(project, stash, text) {
    return this.#about(project, "add_to_stash", { stash, text });
  }

  /**
   * @param {Project} project
   * @returns {Promise<{name: string, text: string}>}
   */
  saveShelf(project) {
    return this.#about(project, "save_shelf");
  }

  /**
   * @param {Project} project
   * @param {ImageData} photo
   * @param {number} count
   * @returns {Promise<{paper: string, reason: import("./types.js").Message}[]>} the papers of the shelf that suit a photo
   */
  async photoPapers(project, { data, width, height }, count) {
    const buffers = [/** @type {ArrayBuffer} */ (data.buffer)];
    const args = { pixels: { buffer: 0 }, width, height, count };
    return (await this.#about(project, "photo_papers", args, { buffers })).papers;
  }

  /**
   * @param {Project} project
   * @param {import("./types.js").Shelf} stash
   * @param {string} paper  the id of one on the shelf
   * @param {number} count
   * @returns {Promise<import("./types.js").Story[]>} palettes about a paper
   */
  async paperStories(project, stash, paper, count) {
    return (await this.#about(project, "colour_stories", { stash, paper, count })).stories;
  }

  /**
   * @param {Project} project
   * @param {import("./types.js").Shelf} stash
   * @param {ImageData} photo
   * @param {number} count
   * @returns {Promise<import("./types.js").Story[]>} palettes about the photo's leading colour
   */
  async photoStories(project, stash, { data, width, height }, count) {
    const buffers = [/** @type {ArrayBuffer} */ (data.buffer)];
    const args = { stash, paper: null, pixels: { buffer: 0 }, width, height, count };
    return (await this.#about(project, "colour_stories", args, { buffers })).stories;
  }

  /**
   * @param {ImageData} photo
   * @param {import("./types.js").Point[]} corners  px, clockwise from the paper's top left
   * @param {number} width_mm  real size
   * @param {number} height_mm
   * @returns {Promise<{picture: ImageData, colour: string, direction: import("./types.js").Paper["direction"]}>}
   */
  async squarePicture({ data, width, height }, corners, width_mm, height_mm) {
    const { result, buffers } = await this.messenger.ask(
      "square_picture",
      { pixels: { buffer: 0 }, width, height, corners, width_mm, height_mm },
      { buffers: [/** @type {ArrayBuffer} */ (data.buffer)] },
    );
    const bytes = /** @type {Uint8Array<ArrayBuffer>} */ (buffers[result.pixels.buffer]);
    const pixels = new Uint8ClampedArray(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const { colour, direction } = result;
    return { picture: new ImageData(pixels, result.width, result.height), colour, direction };
  }

  /**
   * @param {ImageData} copy  of a picture
   * @param {number} copy_width  of the copy that corners are px of
   * @param {import("./types.js").Tracing} choices
   * @returns {Promise<import("./types.js").SeenPicture>} what choices make of it
   */
  async lookAtPicture({ data, width, height }, copy_width, choices) {
    const { result, buffers } = await this.messenger.ask(
      "look_at_picture",
      { pixels: { buffer: 0 }, width, height, copy_width, choices },
      { buffers: [/** @type {ArrayBuffer} */ (data.buffer)] },
    );
    return { ...result, isCard: buffers[result.is_card.buffer] };
  }

  /**
   * @param {ArrayBuffer} bytes  of the file of a drawing
   * @returns {Promise<Uint8Array<ArrayBuffer> | null>} the largest picture that it holds, as a file
   */
  async pictureIn(bytes) {
    const { result, buffers } = await this.messenger.ask("picture_in", { file: { buffer: 0 } }, { buffers: [bytes] });
    return result.found ? /** @type {Uint8Array<ArrayBuffer>} */ (buffers[0]) : null;
  }

  /**
   * @param {ImageData} picture
   * @param {number} copy_width  of the copy that corners are px of
   * @param {import("./types.js").Tracing} choices
   * @param {(step: {done: number, total: number}) => void} progress
   * @param {AbortSignal} signal
   * @returns {Promise<{svg: string, dropped: number}>} the file of the design in it
   */
  async tracePicture({ data, width, height }, copy_width, choices, progress, signal) {
    const args = { pixels: { buffer: 0 }, width, height, copy_width, choices };
    const buffers = [/** @type {ArrayBuffer} */ (data.buffer)];
    return (await this.messenger.ask("trace_picture", args, { buffers, progress, signal })).result;
  }

  /**
   * @param {ImageData} photo
   * @param {[number, number]} known_mm  size of what lies beside the left-over
   * @returns {Promise<{outline: import("./types.js").Point[], corners: import("./types.js").Point[] | null}>} px
   */
  async findScrap({ data, width, height }, known_mm) {
    const buffers = [/** @type {ArrayBuffer} */ (data.buffer)];
    return (await this.messenger.ask("find_scrap", { pixels: { buffer: 0 }, width, height, known_mm }, { buffers })).result;
  }

  /**
   * @param {readonly import("./types.js").Point[]} outline  px
   * @param {readonly import("./types.js").Point[]} corners  px
   * @param {[number, number]} known_mm  size of what the corners enclose
   * @returns {Promise<Omit<import("./types.js").Scrap, "id" | "paper">>}
   */
  async measureScrap(outline, corners, known_mm) {
    return (await this.messenger.ask("measure_scrap", { outline, corners, known_mm })).result;
  }

  /**
   * @param {Project} project
   * @returns {Promise<import("./types.js").PageLayout>} the piece on a page to start from
   */
  async startPage(project) {
    return (await this.#about(project, "start_page")).page;
  }

  /**
   * @param {Project} project
   * @returns {Promise<{svg: string, measures: import("./types.js").Measure[]}>} the page with measures
   */
  pagePicture(project) {
    return this.#about(project, "page_picture", { words: spokenFile() });
  }

  /** @returns {Promise<{name: string, width_mm: number, height_mm: number}[]>} */
  async pageSizes() {
    return (await this.messenger.ask("page_sizes", {})).result.sizes;
  }

  /**
   * @param {Project} project
   * @param {import("./types.js").Point[]} outline
   * @returns {Promise<number[]>}
   */
  async openingsIn(project, outline) {
    return (await this.#about(project, "openings_in", { outline })).openings;
  }

  /**
   * @param {Project} project
   * @returns {Promise<import("./types.js").Checklist>}
   */
  checklist(project) {
    return this.#about(project, "checklist");
  }

  /**
   * Fetches and readies what files are written with, ahead of time.
   *
   * @param {readonly string[]} kinds
   */
  async prepareSheets(kinds) {
    await this.messenger.ask("prepare_sheets", { kinds });
  }

  /**
   * @param {Project} project
   * @param {Record<string, unknown>} choices
   * @param {readonly {paper: string, picture: ArrayBuffer, width_mm: number}[]} patterns  of papers that are printed
   * @param {readonly {paper: string, picture: ArrayBuffer, pixels: ArrayBuffer, width_px: number, height_px: number, width_mm: number}[]} looks
   *   of papers with a pattern, for pictures
   * @param {(step: {done: number, total: number, name: string} | {fetched: {bytes: number, total: number}}) => void} progress
   * @param {AbortSignal} signal
   * @returns {Promise<{name: string, type: string, purpose: string, bytes: Uint8Array<ArrayBuffer>}[]>}
   */
  async sheets(project, choices, patterns, looks, progress, signal) {
    /** @type {ArrayBuffer[]} */
    const files = [];
    const sent = (/** @type {ArrayBuffer} */ data) => ({ buffer: files.push(data) - 1 });
    const args = {
      words: spokenFile(),
      choices,
      patterns: patterns.map((pattern) => ({ ...pattern, picture: sent(pattern.picture) })),
      looks: looks.map((look) => ({ ...look, picture: sent(look.picture), pixels: sent(look.pixels) })),
    };
    const { result, buffers } = await this.#ask(project, "sheets", args, { buffers: files, progress, signal });
    return result.files.map((/** @type {import("./types.js").SheetFile} */ file) => ({
      name: file.name,
      type: file.type,
      purpose: file.purpose,
      bytes: /** @type {Uint8Array<ArrayBuffer>} */ (buffers[file.bytes.buffer]),
    }));
  }

  /**
   * @param {string} text
   * @returns {Promise<{path: string, size: number}>} its QR code in modules; rejects where it is too long for one
   */
  async qr(text) {
    return (await this.messenger.ask("qr", { text })).result;
  }

  /**
   * @param {Project} project
   * @param {unknown} kept  of its plan, to go along; null without
   * @returns {Promise<{name: string, text: string}>}
   */
  save(project, kept) {
    return this.#about(project, "save", { kept });
  }

  /**
   * @param {Project} project
   * @returns {Promise<string>} the fragment of its link, the shortest
   */
  async link(project) {
    return (await this.#about(project, "link", {})).fragment;
  }

  /**
   * @param {Project} project
   * @param {Map<string, Uint8Array<ArrayBuffer>>} pictures  small ones, by key
   * @returns {Promise<string>} the fragment of a link with these, and with the last plan where there is room for it
   */
  async wholeLink(project, pictures) {
    const buffers = [...pictures.values()].map(({ buffer }) => buffer);
    const named = Object.fromEntries([...pictures.keys()].map((key, buffer) => [key, { buffer }]));
    return (await this.#about(project, "link", { pictures: named, with_plan: true }, { buffers })).fragment;
  }

  /**
   * @param {string} fragment
   * @returns {Promise<{project: Project, pictures: Map<string, Uint8Array<ArrayBuffer>>, kept: unknown}>} with small
   *   ones by key, and what is kept of its plan, null for none
   */
  async openLink(fragment) {
    const { result, buffers } = await this.messenger.ask("open_link", { fragment });
    const named = /** @type {[string, {buffer: number}][]} */ (Object.entries(result.pictures));
    const bytes = /** @type {Uint8Array<ArrayBuffer>[]} */ (buffers);
    return {
      project: result.project,
      kept: result.kept,
      pictures: new Map(named.map(([key, { buffer }]) => [key, bytes[buffer] ?? new Uint8Array()])),
    };
  }

  /**
   * @param {string} text
   * @param {string} unit  the unit of a bare number
   * @returns {Promise<number>} mm
   */
  async readLength(text, unit) {
    return (await this.messenger.ask("read_length", { text, unit })).result.mm;
  }

  /**
   * @param {Project} project
   * @param {string} call
   * @param {Record<string, unknown>} [args]
   * @param {import("./messenger.js").Options} [options]
   */
  async #about(project, call, args, options) {
    return (await this.#ask(project, call, args, options)).result;
  }

  /**
   * Asks about a project; where Python does not know its design file, hands that over and asks once more.
   *
   * @param {Project} project
   * @param {string} call
   * @param {Record<string, unknown>} [args]
   * @param {import("./messenger.js").Options} [options]
   */
  async #ask(project, call, args = {}, options = {}) {
    const { name, svg } = project.source;
    const ask = () => {
      const source = { name, key: this.sources.keyOf(svg) };
      return this.messenger.ask(call, { project: { ...project, source }, ...args }, options);
    };
    try {
      return await ask();
    } catch (error) {
      if (!(error instanceof UnknownSource)) throw error;
      this.sources.lose(svg);
      return ask();
    }
  }
}

/**
 * @param {Lettering} lettering
 * @param {number} before  buffers of the call
 * @returns {[Record<string, unknown>, ArrayBuffer[]]} what is told of it in the call, and its buffers
 */
function toldOf({ typefaces, standIn }, before) {
  return [{ typefaces: typefaces.map((_, index) => ({ buffer: before + index })), stand_in: standIn }, [...typefaces]];
}
