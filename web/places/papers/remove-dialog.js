import { make } from "../../parts/dom.js";
import { field } from "../../parts/field.js";
import { say } from "../../words/words.js";
import { ProjectDialog } from "../project-dialog.js";
import { showTrouble } from "../../parts/trouble.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Paper} Paper */

/**
 * Takes a paper off the shelf. Where it is in use, asks which paper its openings get instead.
 *
 * @param {Workroom} room
 * @param {Paper} paper
 */
export async function removePaper(room, paper) {
  try {
    const uses = await room.questions.ask("project", (project) => room.desk.uses(project, paper.id));
    if (uses.length > 0) askInstead(room, paper, uses);
    else if (await room.change([{ edit: "remove_paper", to: { paper: paper.id } }])) pickAnother(room, null);
  } catch (error) {
    room.notices.tellError(error, { stays: true });
  }
}

/**
 * @param {Workroom} room
 * @param {Paper} paper
 * @param {readonly {colourway: string, openings: number}[]} uses
 */
function askInstead(room, paper, uses) {
  const dialog = new ProjectDialog(room, say("paper.remove-title", { paper: paper.name }));
  const instead = make(
    "select",
    {},
    make("option", { value: "" }, say("paper.remove-open")),
    ...room.project.shelf.papers
      .filter(({ id }) => id !== paper.id)
      .map(({ id, name }) => make("option", { value: id }, `${room.shelfNumber(id)}. ${name}`)),
  );
  const remove = async () => {
    const swaps = instead.value
      ? room.project.colourways.map(({ id }) => ({
          edit: "swap_paper",
          to: { colourway: id, old: paper.id, new: instead.value },
        }))
      : [];
    const done = await room.change(
      [...swaps, { edit: "remove_paper", to: { paper: paper.id } }],
      (error) => {
        showTrouble(dialog.trouble, error);
      },
    );
    if (!done) return;
    dialog.close();
    pickAnother(room, instead.value || null);
  };
  dialog.room.append(
    make("p", {}, say("paper.remove-uses")),
    make(
      "ul",
      { class: "uses" },
      ...uses.map(({ colourway, openings }) =>
        make("li", {}, say("paper.remove-use", { colourway, count: openings })),
      ),
    ),
    field("paper.remove-instead", instead),
  );
  dialog.foot.append(
    make("button", { help: "act.cancel", type: "button", class: "button", onclick: () => dialog.close() }, say("act.cancel")),
    make("button", { help: "paper.remove-do", type: "button", class: "button-main", onclick: () => void remove() }, say("paper.remove-do")),
  );
  dialog.open();
}

/**
 * @param {Workroom} room
 * @param {string | null} id
 */
function pickAnother(room, id) {
  room.session.take({ picked: id ?? room.project.shelf.papers[0]?.id ?? null });
}
