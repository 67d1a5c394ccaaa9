import { Dialog } from "../parts/dialog.js";
import { icon, make } from "../parts/dom.js";
import { megabytes } from "../parts/files/megabytes.js";
import { saveFile } from "../parts/files/save-file.js";
import { sentenceOf } from "../words/sentence.js";
import { EVERYTHING } from "../project/saved-files.js";
import { addOne, addStash, contentsOf, packEverything } from "../project/travel/backup.js";
import { say, locale } from "../words/words.js";

/** @typedef {import("../places/workroom.js").Workroom} Workroom */
/** @typedef {import("../project/archive.js").Archive} Archive */
/** @typedef {import("../project/saved-files.js").SavedFiles} SavedFiles */
/** @typedef {import("../project/travel/parcel.js").Parcel} Parcel */
/** @typedef {{progress: (done: number, total: number) => void, signal: AbortSignal}} Watching */
/** @typedef {{room: Workroom, archive: Archive, files: SavedFiles}} Tools */

/**
 * Saves everything that is kept as one file, with progress and a stop.
 *
 * @param {Tools} tools
 */
export async function saveEverything({ room, archive, files }) {
  const work = new Work(say("menu.save-all"), say("backup.packing"));
  await work.run(async (watch) => {
    const { blob, projects, carried } = await packEverything({ archive, pictures: room.pictures, desk: room.desk }, room.project, watch);
    const day = new Date().toISOString().slice(0, 10);
    const name = `peekpaper ${day}.zip`;
    const before = await files.last(EVERYTHING);
    work.offer(say("menu.save"), async () => {
      const saved = await saveFile(before?.handle?.name ?? name, blob, before?.handle ?? null);
      if (!saved) return;
      await files.note(EVERYTHING, saved.handle?.name ?? name, saved.handle);
      work.dialog.close();
      room.notices.tell(say("backup.saved", { count: projects }), { stays: true });
    });
    const lacking = carried.lacking > 0 ? [say("backup.lacking", { count: carried.lacking })] : [];
    return [say("backup.packed", { count: projects, size: megabytes(blob.size) }), ...lacking];
  });
}

/**
 * Shows what a file of everything holds, and adds what is not here.
 *
 * @param {Parcel} parcel
 * @param {Tools} tools
 * @param {() => void} show  what is kept now
 */
export async function openEverything(parcel, { room, archive }, show) {
  const { saved, projects } = await contentsOf(parcel);
  const when = whenSaid(saved);
  const work = new Work(say("backup.title"), say("backup.adding"));
  work.dialog.room.prepend(
    make("p", {}, say("backup.holds", { when, count: projects.length })),
    make("ul", { class: "backup-list" }, ...projects.map(({ name }) => make("li", {}, name))),
    make("p", { class: "soft" }, say("backup.nothing-lost")),
  );
  const besideName = (/** @type {string} */ name) => say("backup.beside-name", { name, when });
  const add = async (/** @type {Watching} */ { progress, signal }) => {
    const counts = { added: 0, beside: 0, here: 0 };
    /** @type {string[]} */
    const refused = [];
    const tools = { archive, pictures: room.pictures, desk: room.desk };
    for (const [index, listed] of projects.entries()) {
      progress(index, projects.length);
      if (signal.aborted) break;
      try {
        counts[await addOne(parcel, listed, besideName, tools, signal)] += 1;
      } catch (error) {
        if (signal.aborted) break;
        refused.push(say("backup.refused", { name: listed.name, reason: sentenceOf(error) }));
      }
    }
    let papers = 0;
    if (!signal.aborted) {
      papers = await addStash(parcel, room.stash, room.project, tools).catch((error) => {
        refused.push(say("backup.refused", { name: say("backup.stash"), reason: sentenceOf(error) }));
        return 0;
      });
    }
    work.offer(say("backup.show"), async () => {
      work.dialog.close();
      show();
    });
    const told = /** @type {const} */ (["added", "beside", "here"])
      .filter((outcome) => counts[outcome] > 0)
      .map((outcome) => say(`backup.${outcome}`, { count: counts[outcome] }));
    if (papers > 0) told.push(say("backup.papers", { count: papers }));
    return [...told, ...refused, ...(signal.aborted ? [say("backup.stopped")] : [])];
  };
  work.offer(say("backup.add"), () => work.run(add));
  work.dialog.open();
}

/** A dialog about long work: what is done next, how far it is, and what came of it. */
class Work {
  /**
   * @param {string} title
   * @param {string} doing
   */
  constructor(title, doing) {
    this.doing = doing;
    this.dialog = new Dialog(title);
    this.bar = make("progress", { class: "bar", hidden: true, "aria-label": doing });
    this.told = make("div", { role: "status" });
    this.dialog.room.append(this.bar, this.told);
  }

  /**
   * Offers a next step.
   *
   * @param {string} name
   * @param {() => Promise<void>} act
   */
  offer(name, act) {
    this.dialog.foot.replaceChildren(
      make("button", { type: "button", class: "button-main", onclick: () => void act() }, icon("save"), name),
    );
  }

  /** @param {(watch: Watching) => Promise<string[]>} work  tells what came of it */
  async run(work) {
    const stopping = new AbortController();
    if (!this.dialog.element.open) this.dialog.open();
    this.dialog.element.addEventListener("close", () => stopping.abort(), { once: true });
    this.bar.hidden = false;
    this.bar.removeAttribute("value");
    this.told.replaceChildren(make("p", {}, this.doing));
    this.dialog.foot.replaceChildren(
      make("button", { help: "act.stop", type: "button", class: "button", onclick: () => stopping.abort() }, icon("stop"), say("act.stop")),
    );
    const progress = (/** @type {number} */ done, /** @type {number} */ total) => {
      this.bar.max = total;
      this.bar.value = done;
    };
    try {
      const sentences = await work({ progress, signal: stopping.signal });
      this.told.replaceChildren(...sentences.map((sentence) => make("p", {}, sentence)));
    } catch (error) {
      this.told.replaceChildren();
      if (stopping.signal.aborted) this.dialog.close();
      else {
        this.dialog.trouble.textContent = sentenceOf(error);
        this.dialog.foot.replaceChildren();
      }
    }
    this.bar.hidden = true;
  }
}

/** @param {number} when  @returns {string} */
export function whenSaid(when) {
  return new Intl.DateTimeFormat(locale(), { dateStyle: "long", timeStyle: "short" }).format(when);
}
