import { fileButton } from "../../../parts/files/file-button.js";
import { make, write } from "../../../parts/dom.js";
import { swatch } from "../../../parts/swatch.js";
import { sayMessage } from "../../../words/messages.js";
import { say } from "../../../words/words.js";
import { readPhoto } from "../../../pictures/read-photo.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../desk/types.js").Message} Message */
/** @typedef {import("../../../desk/types.js").Story} Story */
/** @typedef {import("../../../words/words.js").Key} Key */

const PHOTO_SIDE_PX = 640;
const LEAST = 3;

/** Colour stories: palettes over all papers at hand, from a photo or the paper in hand, to suggest from. */
export class StoryPart {
  /**
   * @param {Workroom} room
   * @param {() => number} count  how many papers are wanted
   * @param {(ids: string[], isRamp: boolean) => void} use  suggests from these papers of the shelf
   */
  constructor(room, count, use) {
    this.room = room;
    this.count = count;
    this.use = use;
    this.list = make("div", { class: "stack", "aria-live": "polite" });
    this.paper = make("button", { help: "story.paper", type: "button", class: "button", onclick: () => void this.#ofPaper() });
    this.element = make(
      "section",
      { class: "part" },
      make("h3", {}, say("story.title")),
      make("p", { class: "soft" }, say("story.about")),
      make(
        "div",
        { class: "choice-row" },
        fileButton("photo", "suggest.photo-pick", { accept: "image/*" }, (file) => void this.#ofPhoto(file)),
        this.paper,
      ),
      this.list,
    );
  }

  update() {
    const paper = this.#inHand;
    this.paper.hidden = paper === null;
    if (paper) write(this.paper, say("story.paper", { paper: paper.name }));
  }

  /** Forgets the stories of another shelf. */
  clear() {
    this.list.replaceChildren();
  }

  get #inHand() {
    return this.room.papers.get(this.room.session.hand.picked ?? "") ?? null;
  }

  async #ofPaper() {
    const paper = this.#inHand;
    if (!paper) return;
    const { desk, questions, stash } = this.room;
    await this.#try(async () => {
      const found = await questions.ask("project", (project) => desk.paperStories(project, stash.shelf, paper.id, this.#wanted));
      this.#show([], found);
    });
  }

  /** @param {File} file */
  async #ofPhoto(file) {
    const { desk, questions, stash } = this.room;
    await this.#try(async () => {
      const { picture } = await readPhoto(file, PHOTO_SIDE_PX);
      const found = await questions.ask("project", async (project) => ({
        fitting: await desk.photoPapers(project, picture, this.#wanted),
        stories: await desk.photoStories(project, stash.shelf, picture, this.#wanted),
      }));
      this.#show(found.fitting, found.stories);
    });
  }

  get #wanted() {
    return Math.max(this.count(), LEAST);
  }

  /**
   * @param {readonly {paper: string, reason: Message}[]} fitting  papers that suit a photo
   * @param {readonly Story[]} stories
   */
  #show(fitting, stories) {
    const rows = fitting.map(({ paper, reason }) => this.#fitting(paper, reason));
    const photo = fitting.map(({ paper }) => ({ shelf: paper, stash: null }));
    this.list.replaceChildren(
      ...(photo.length > 0 ? [this.#story("photo", photo, make("ul", { class: "fits" }, ...rows))] : []),
      ...stories.map(({ kind, papers }) => this.#story(kind, papers, null)),
      ...(photo.length + stories.length === 0 ? [make("p", { class: "soft" }, say("story.none"))] : []),
    );
  }

  /**
   * @param {string} kind
   * @param {Story["papers"]} papers
   * @param {HTMLElement | null} reasons
   */
  #story(kind, papers, reasons) {
    const named = papers.map((one) => this.#paperOf(one)).filter((paper) => paper !== undefined);
    return make(
      "div",
      { class: "story", role: "group", "aria-label": say(/** @type {Key} */ (`story.${kind}`)) },
      make("h4", {}, say(/** @type {Key} */ (`story.${kind}`))),
      reasons ??
        make(
          "ul",
          { class: "story-papers" },
          ...named.map((paper) => make("li", { title: paper.name }, swatch(this.room.paint, paper, 56, 44), make("small", {}, paper.name))),
        ),
      make(
        "button",
        { help: "story.use", type: "button", class: "button", onclick: () => void this.#take(papers, kind === "light-to-dark") },
        say("story.use"),
      ),
    );
  }

  /** @param {Story["papers"][number]} one */
  #paperOf({ shelf, stash }) {
    return shelf === null ? this.room.stash.shelf.papers.find(({ id }) => id === stash) : this.room.papers.get(shelf);
  }

  /**
   * Lays on the shelf what is in the stash alone, and suggests from the papers.
   *
   * @param {Story["papers"]} papers
   * @param {boolean} isRamp
   */
  async #take(papers, isRamp) {
    const { room } = this;
    const missing = papers.filter(({ shelf }) => shelf === null).map(({ stash }) => stash);
    const to = { stash: room.stash.shelf, papers: missing };
    if (missing.length > 0 && !(await room.change([{ edit: "take_from_stash", to }]))) return;
    const here = room.project.shelf.papers;
    const ids = papers.map(({ shelf, stash }) => shelf ?? here.find((paper) => paper.stash === stash)?.id);
    this.use(ids.filter((id) => id !== undefined), isRamp);
  }

  /**
   * @param {string} id
   * @param {Message} reason
   */
  #fitting(id, reason) {
    const paper = this.room.papers.get(id);
    return make(
      "li",
      {},
      make(
        "button",
        { help: "kind-paper", type: "button", class: "row", onclick: () => this.room.session.take({ picked: id, tool: "paper" }) },
        paper ? swatch(this.room.paint, paper, 44, 44) : null,
        make("span", {}, sayMessage(reason, this.room.unit)),
      ),
    );
  }

  /** @param {() => Promise<void>} act */
  async #try(act) {
    try {
      await act();
    } catch (error) {
      this.room.notices.tellError(error, { stays: true });
    }
  }
}
