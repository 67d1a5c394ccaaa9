import { isFull } from "../project/database.js";
import { persists } from "../project/persistence.js";
import { EVERYTHING } from "../project/saved-files.js";
import { say } from "../words/words.js";
import { whenSaid } from "./backup-dialogs.js";

/** Where the open project's work stands: kept in this browser or not, and in files. */
export class Standing {
  /**
   * @param {import("../places/workroom.js").Workroom} room
   * @param {import("../project/saved-files.js").SavedFiles} files
   * @param {() => void} save  as a file
   */
  constructor(room, files, save) {
    this.room = room;
    this.files = files;
    this.save = save;
    /** Why this browser keeps nothing, where that is told. */
    this.told = "";
    /** Takes that notice away. */
    this.untell = () => {};
  }

  /**
   * Tells once that this browser keeps nothing, until something is kept again or there is another reason.
   *
   * @param {unknown} error
   */
  keepsNothing(error) {
    const sentence = whyNothingIsKept(error);
    if (this.told === sentence) return;
    this.keepsAgain();
    this.told = sentence;
    this.untell = this.room.notices.tell(sentence, {
      stays: true,
      action: { name: say("menu.save"), do: this.save },
    });
  }

  keepsAgain() {
    this.untell();
    this.untell = () => {};
    this.told = "";
  }

  /** @returns {Promise<string[]>} in sentences */
  async sentences() {
    const { id, name } = this.room.project;
    const isApp = matchMedia("(display-mode: standalone)").matches;
    const mayClear = isApp ? "standing.may-clear-app" : "standing.may-clear";
    const here = this.told || say((await persists()) ? "standing.kept" : mayClear);
    const [own, all] = await Promise.all([this.files.last(id), this.files.last(EVERYTHING)]);
    const since = (/** @type {number} */ changes) => say(changes > 0 ? "standing.changes" : "standing.no-changes", { count: changes });
    return [
      here,
      own
        ? say("standing.file", { name, when: whenSaid(own.when), since: since(own.changes) })
        : say("standing.no-file", { name }),
      ...(all ? [say("standing.everything", { when: whenSaid(all.when), since: since(all.changes) })] : []),
    ];
  }
}

/** @param {unknown} error */
function whyNothingIsKept(error) {
  if (isFull(error)) return say("keep.full");
  const isOvertaken = error instanceof DOMException && error.name === "VersionError";
  return say(isOvertaken ? "keep.newer" : "keep.failed");
}
