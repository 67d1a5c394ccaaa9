/** @typedef {import("../desk/types.js").Shelf} Shelf */
/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {import("./archive.js").Archive} Archive */
/** @typedef {import("../desk/desk.js").Desk} Desk */
/** @typedef {import("../desk/types.js").Cut} Cut */
/** @typedef {import("../desk/types.js").Booking} Booking */

/** @type {Shelf} */
const NOTHING = { papers: [], scraps: [] };
/** Its papers are invented: only what the person adds to it is theirs. */
const DEMO = "harbour-panel";

/**
 * The papers that the person has, for all projects: kept in this browser beside them. Tabs change it one after
 * another, each what the one before left.
 *
 * Events: "change" (it is another; `detail.laidIn` tells whether papers of a project were laid in).
 */
export class Stash extends EventTarget {
  /**
   * @param {Archive} archive
   * @param {Desk} desk
   */
  constructor(archive, desk) {
    super();
    this.archive = archive;
    this.desk = desk;
    /** @type {Shelf} */
    this.shelf = NOTHING;
    /** What was cut, the first first. @type {readonly Booking[]} */
    this.bookings = [];
    /** Resolves once what is kept was read. @type {Promise<void>} */
    this.begun = this.#read();
    addEventListener("visibilitychange", () => document.hidden || void this.#read());
    this.begun.then(() => desk.onceReady(() => void this.#moveIn().catch(() => {})));
  }

  /**
   * Changes the stash as it is kept by now.
   *
   * @param {(shelf: Shelf) => Shelf | Promise<Shelf>} edit
   * @returns {Promise<void>} rejects where it can't be kept; then all is as it was
   */
  change(edit) {
    return this.#keep(async (shelf, bookings) => ({ shelf: await edit(shelf), bookings }), false);
  }

  /**
   * Keeps a paper as it is told now, with these scraps as its only ones, whatever their ids.
   *
   * @param {import("../desk/types.js").Paper} paper  by its id in the stash
   * @param {readonly import("../desk/types.js").Scrap[]} cuts
   * @returns {Promise<void>} rejects where that can't be, or can't be kept; then all is as it was
   */
  put(paper, cuts) {
    return this.change(async ({ papers, scraps }) => {
      const before = scraps.filter((scrap) => scrap.paper === paper.id);
      const own = cuts.map((cut) => {
        const at = before.findIndex((scrap) => shapeOf(scrap) === shapeOf(cut));
        const [same] = at < 0 ? [] : before.splice(at, 1);
        return same ?? { ...cut, id: crypto.randomUUID(), paper: paper.id };
      });
      const after = {
        papers: papers.map((one) => (one.id === paper.id ? paper : one)),
        scraps: [...scraps.filter((scrap) => scrap.paper !== paper.id), ...own],
      };
      // The package refuses what no paper can be.
      await this.desk.stashView(after);
      return after;
    });
  }

  /**
   * Takes what is cut out of the stash, and puts what is left of begun sheets in.
   *
   * @param {Project} project  with a plan
   * @param {string} colourway  what it is called
   * @param {(cut: Cut) => void} note  notes it in the project before the stash is another
   * @returns {Promise<Booking>} rejects where a scrap is gone, or it can't be kept; then all is as it was
   */
  async book(project, colourway, note) {
    /** @type {Booking | null} */
    let booking = null;
    await this.#keep(async (before, bookings) => {
      const { stash, taken, cut } = await this.desk.book(project, before);
      const { id, name } = project;
      booking = { id: cut.booking, when: Date.now(), project: id, name, colourway, taken, undone: false };
      return { shelf: stash, bookings: [...bookings, booking], told: () => note(cut) };
    }, false);
    if (!booking) throw new Error("nothing was booked");
    return booking;
  }

  /**
   * Puts back what was cut.
   *
   * @param {string} id  of the booking
   * @returns {Promise<void>} rejects where it was cut from since, or it can't be kept; then all is as it was
   */
  takeBack(id) {
    return this.#keep(async (before, bookings) => {
      const booking = bookings.find((one) => one.id === id && !one.undone);
      if (!booking) return { shelf: before, bookings };
      const { stash } = await this.desk.takeBack(before, booking.taken);
      return { shelf: stash, bookings: bookings.map((one) => (one === booking ? { ...one, undone: true } : one)) };
    }, false);
  }

  /**
   * Adds the papers of another stash that are not in this one, with their scraps and with what was cut of them. Cuts
   * of papers that are here already are left out: to take them back would bring back sheets that never left.
   *
   * @param {Shelf} other
   * @param {readonly Booking[]} history  of that stash
   * @returns {Promise<number>} how many papers were added
   */
  async add(other, history) {
    let count = 0;
    await this.#keep(async (here, bookings) => {
      const known = new Set([...here.papers, ...here.scraps, ...bookings].map(({ id }) => id));
      const papers = other.papers.filter(({ id }) => !known.has(id));
      const added = new Set(papers.map(({ id }) => id));
      const scraps = other.scraps.filter(({ id, paper }) => added.has(paper) && !known.has(id));
      const cuts = history
        .filter(({ id }) => !known.has(id))
        .map((cut) => ({ ...cut, taken: cut.taken.filter(({ paper }) => !known.has(paper)) }))
        .filter(({ taken }) => taken.length > 0);
      count = papers.length;
      return {
        shelf: { ...here, papers: [...here.papers, ...papers], scraps: [...here.scraps, ...scraps] },
        bookings: [...bookings, ...cuts].sort((one, next) => one.when - next.when),
      };
    }, false);
    return count;
  }

  /**
   * Changes all as it is kept by now, one tab after another.
   *
   * @param {(shelf: Shelf, bookings: Booking[]) =>
   *   Promise<{shelf: Shelf, bookings: readonly Booking[], told?: () => void}>} edit
   * @param {boolean} laidIn
   */
  #keep(edit, laidIn) {
    return inTurn(async () => {
      const [shelf, known] = await Promise.all([this.archive.stash(), this.archive.bookings()]);
      const { shelf: after, bookings, told } = await edit(shelf ?? NOTHING, known);
      await this.archive.keepStash(after, bookings);
      told?.();
      this.#become(after, bookings, laidIn);
    });
  }

  /**
   * Lays papers of a project into the stash, or takes over what changed of them there.
   *
   * @param {Project} project
   * @param {readonly string[]} papers  their ids in the project
   * @returns {Promise<Record<string, string>>} their ids in the stash
   */
  async layIn(project, papers) {
    /** @type {Record<string, string>} */
    let links = {};
    await this.#keep(async (shelf, bookings) => {
      const laid = await this.desk.layIn(project, shelf, papers);
      links = laid.links;
      return { shelf: laid.stash, bookings };
    }, true);
    return links;
  }

  /** Forgets all of it on this computer; papers stay in the projects that use them. */
  async forget() {
    await this.#keep(async () => ({ shelf: NOTHING, bookings: [] }), false);
  }

  async #read() {
    const kept = await Promise.all([this.archive.stash(), this.archive.bookings()]).catch(() => null);
    if (!kept) return;
    const [shelf, bookings] = [kept[0] ?? NOTHING, kept[1]];
    if (JSON.stringify([shelf, bookings]) === JSON.stringify([this.shelf, this.bookings])) return;
    this.#become(shelf, bookings, false);
  }

  /**
   * @param {Shelf} shelf
   * @param {readonly Booking[]} bookings
   * @param {boolean} laidIn
   */
  #become(shelf, bookings, laidIn) {
    this.shelf = shelf;
    this.bookings = bookings;
    this.dispatchEvent(new CustomEvent("change", { detail: { laidIn } }));
  }

  /**
   * Once: what the projects kept before there was a stash tell of papers is laid into it, and their papers belong to
   * it from then on. Plain papers of which nothing is told, such as those to try things out, are left.
   */
  async #moveIn() {
    if ((await this.archive.stash()) !== null) return;
    for (const { id } of await this.archive.list()) {
      const kept = id === DEMO ? null : await this.archive.read(id);
      if (!kept) continue;
      const { document } = kept.course;
      const own = document.shelf.papers.filter((paper) => isTold(paper, document.shelf)).map((paper) => paper.id);
      if (own.length === 0) continue;
      const links = await this.layIn(document, own);
      const linked = linkedTo(document, links);
      await this.archive.save({ ...kept, course: { ...kept.course, document: linked } });
      this.dispatchEvent(new CustomEvent("moved", { detail: { project: id, links } }));
    }
    if ((await this.archive.stash()) === null) await this.archive.keepStash(NOTHING, []);
  }
}

/**
 * @param {Project} project
 * @param {Readonly<Record<string, string>>} links  by paper id, the paper's id in the stash
 * @returns {Project} the same one where its papers belong to those already
 */
export function linkedTo(project, links) {
  const { papers } = project.shelf;
  if (papers.every(({ id, stash }) => (links[id] ?? stash) === stash)) return project;
  const linked = papers.map((paper) => ({ ...paper, stash: links[paper.id] ?? paper.stash }));
  return { ...project, shelf: { ...project.shelf, papers: linked } };
}

/**
 * @param {Project} project
 * @param {readonly Booking[]} bookings
 * @returns {Project} without cuts that were taken back, or that are another project's; the same one without such
 */
export function soundlyCut(project, bookings) {
  const known = new Map(bookings.map((one) => [one.id, one]));
  const cuts = project.cuts.filter(({ booking }) => {
    const told = known.get(booking);
    return !told || (!told.undone && told.project === project.id);
  });
  return cuts.length === project.cuts.length ? project : { ...project, cuts };
}

/**
 * Whether a paper of a project is another in the stash by now.
 *
 * @param {import("../desk/types.js").Paper} paper
 * @param {Shelf} shelf  of the project
 * @param {Shelf} stash
 */
export function isOutdated(paper, shelf, stash) {
  const held = stash.papers.find(({ id }) => id === paper.stash);
  if (!held) return false;
  const sizes = (/** @type {Shelf} */ of, /** @type {string} */ id) =>
    JSON.stringify(of.scraps.flatMap((scrap) => (scrap.paper === id ? shapeOf(scrap) : [])).sort());
  return told(held) !== told(paper) || sizes(stash, held.id) !== sizes(shelf, paper.id);
}

/**
 * The papers that an edit of a project's shelf added or changed.
 *
 * @param {Project} before
 * @param {Project} after
 * @returns {string[]} their ids
 */
export function shelved(before, after) {
  const known = new Map(before.shelf.papers.map((paper) => [paper.id, paper]));
  const scraps = (/** @type {Shelf} */ shelf, /** @type {string} */ id) =>
    JSON.stringify(shelf.scraps.filter(({ paper }) => paper === id));
  return after.shelf.papers
    .filter((paper) => {
      const old = known.get(paper.id);
      if (after.id === DEMO && old) return false;
      return !old || told(old) !== told(paper) || scraps(before.shelf, paper.id) !== scraps(after.shelf, paper.id);
    })
    .map(({ id }) => id);
}

/** @param {import("../desk/types.js").Scrap} scrap  @returns {string} its size and outline */
function shapeOf({ width_mm, height_mm, outline }) {
  return JSON.stringify([width_mm, height_mm, outline ?? []]);
}

/** @param {import("../desk/types.js").Paper} paper  @returns {string} all that is told of it, wherever it lies */
function told(paper) {
  return JSON.stringify(Object.entries({ ...paper, id: "", stash: null }).sort());
}

/**
 * Whether a person told anything of a paper.
 *
 * @param {import("../desk/types.js").Paper} paper
 * @param {Shelf} shelf
 */
function isTold({ id, picture, pattern, sheets, price }, { scraps }) {
  return [picture, pattern, sheets, price].some((part) => part !== null) || scraps.some(({ paper }) => paper === id);
}

/**
 * @template Value
 * @param {() => Promise<Value>} act
 * @returns {Promise<Value>}
 */
async function inTurn(act) {
  if ("locks" in navigator) return navigator.locks.request("peekpaper stash", act);
  return act();
}
