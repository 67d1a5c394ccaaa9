"""Papers that are laid into the stash stay those of their own project, whatever is opened meanwhile."""

from collections.abc import Callable
from typing import Any

Told = Callable[[str], Any]

# The page's own workroom over a stash that answers when the test says so.
SET_UP = """
import { Questions } from "./desk/questions.js";
import { Workroom } from "./places/workroom.js";
import { Store } from "./project/store.js";
import { learn } from "./words/words.js";

await learn();
const waiting = [];
const told = [];
const store = new Store();
const questions = new Questions();
store.addEventListener("change", () => questions.follow(store.project));
const stash = Object.assign(new EventTarget(), {
    layIn: (project) => new Promise((resolve) => waiting.push({ project, resolve })),
});
const told_of = { pattern: null, picture: null, sheets: null, price: null };
const paper = (name) => ({ id: "p1", name, stash: null, ...told_of });
const project = (id, name) => ({
    id,
    source: { name: id, svg: id },
    reading: {},
    mends: [],
    limits: {},
    backing: {},
    shelf: { papers: [paper(name)], scraps: [] },
    colourway: "one",
    colourways: [{ id: "one", papers: {}, locked: [] }],
    plan: { rounds: null },
    speed: 1,
    cuts: [],
});
const renamed = (project, name) => ({ ...project, shelf: { papers: [paper(name)], scraps: [] } });
const room = new Workroom({
    store,
    questions,
    stash,
    desk: { edit: async (project, _, { name }) => renamed(project, name) },
    bench: new EventTarget(),
    session: { hand: { picked: null } },
    notices: { tell: (sentence) => told.push(sentence), tellError: (error) => told.push(String(error)) },
});
const open = (id, name) => store.open({ document: project(id, name), past: [], future: [] });
const settled = () => new Promise((next) => setTimeout(next, 5));
"""


def test_a_paper_laid_in_late_is_not_taken_for_one_of_the_project_opened_meanwhile(told_by: Told) -> None:
    papers, told = told_by(
        SET_UP
        + """
        open("first", "sand");
        await room.change([{ edit: "put_paper", to: { name: "tide" } }]);
        const [asked] = waiting;
        open("second", "moss");
        asked.resolve({ p1: "stashed tide" });
        await settled();
        tell([store.project.shelf.papers.map(({ name, stash }) => [asked.project.id, name, stash]), told]);
        """
    )
    assert papers == [["first", "moss", None]]
    assert told == []


def test_a_paper_laid_in_is_linked_though_the_person_went_on(told_by: Told) -> None:
    assert told_by(
        SET_UP
        + """
        open("first", "sand");
        await room.change([{ edit: "put_paper", to: { name: "tide" } }]);
        store.edit("", (project) => ({ ...project, speed: 2 }));
        waiting[0].resolve({ p1: "stashed tide" });
        await settled();
        tell([store.project.speed, store.project.shelf.papers[0].stash]);
        """
    ) == [2, "stashed tide"]
