"""What is shown is of what is open: an answer counts only while that is as it was when it was asked for."""

from collections.abc import Callable
from typing import Any

import pytest

Told = Callable[[str], Any]

# A store, a bench, and a package that answers when the test says so: each call waits under its name, and
# tells the project it was asked about.
SET_UP = """
import { Bench } from "./desk/bench.js";
import { Refusal } from "./words/refusal.js";
import { Overtaken, Questions } from "./desk/questions.js";
import { amend, give } from "./project/edits.js";
import { Store } from "./project/store.js";
import { learn } from "./words/words.js";

await learn();
const waiting = [];
const ask = (call, ready = (project) => ({ of: project.id, is_whole: true })) => (project, ...rest) =>
    new Promise((resolve, reject) => {
        const signal = rest.find((each) => each instanceof AbortSignal);
        const progress = rest.find((each) => typeof each === "function") ?? (() => {});
        const answer = () => resolve({ ...ready(project), about: project });
        const refuse = () => reject(new Refusal({ key: "act.overtaken", figures: {} }));
        waiting.push({ call, project, answer, refuse, progress, signal });
    });
const plan = (project) => ({ of: project.id, trims: [], rounds: [], speed: project.speed });
const desk = {
    onceReady: (act) => act(),
    design: ask("design"),
    backing: ask("backing"),
    backingTouchedUp: ask("touched-up", () => ({ backing: { of: "a part" } })),
    plan: ask("plan", plan),
    preview: ask("preview"),
};
const store = new Store();
const questions = new Questions();
const bench = new Bench(desk, questions);
store.addEventListener("change", ({ detail: { step } }) => {
    questions.follow(store.project);
    bench.follow(store.project, step === null);
});
const project = (id, more = {}) => ({
    id,
    source: { name: id, svg: id },
    reading: { width_mm: null },
    mends: [],
    limits: {},
    backing: {},
    shelf: { papers: [] },
    colourway: "one",
    colourways: [{ id: "one", papers: {}, locked: [] }],
    plan: { rounds: null, mat_width_mm: 300 },
    speed: 1,
    cuts: [],
    ...more,
});
const open = (id) => store.open({ document: project(id), past: [], future: [] });
const settled = () => new Promise((next) => setTimeout(next, 5));
/** Waits for a call and returns it. */
const called = async (call) => {
    for (let tries = 0; tries < 200; tries += 1) {
        const at = waiting.findIndex((each) => each.call === call && !each.signal?.aborted);
        if (at >= 0) return waiting.splice(at, 1)[0];
        await settled();
    }
    throw new Error(`${call} was not asked for`);
};
const answered = async (...calls) => {
    for (const call of calls) (await called(call)).answer();
    await settled();
};
"""


def test_a_design_refused_late_says_nothing_of_the_project_opened_meanwhile(told_by: Told) -> None:
    made, trouble = told_by(
        SET_UP
        + """
        open("first");
        const late = await called("design");
        open("second");
        late.refuse();
        await answered("design", "backing");
        tell([[bench.design.of, bench.backing.of], [...bench.trouble.keys()]]);
        """
    )
    assert made == ["second", "second"]
    assert trouble == []


@pytest.mark.parametrize("step", ["design", "backing"])
def test_what_was_made_of_a_project_is_not_shown_in_another(told_by: Told, step: str) -> None:
    before = {"design": "", "backing": "await answered('design');"}[step]
    assert told_by(
        SET_UP
        + f"""
        open("first");
        {before}
        const late = await called("{step}");
        open("second");
        late.answer();
        late.progress({{ of: "first" }});
        await settled();
        tell([bench.design, bench.backing, bench.isBehind]);
        """
    ) == [None, None, True]


def test_a_design_of_a_size_that_was_changed_meanwhile_is_not_shown(told_by: Told) -> None:
    shown = told_by(
        SET_UP
        + """
        const resize = (width_mm) => store.edit("", (project) => amend(project, "reading", { width_mm }));
        const shown = [];
        bench.addEventListener("design", () => shown.push(bench.design?.about.reading.width_mm));
        open("first");
        await answered("design", "backing");
        resize(100);
        const late = await called("design");
        resize(200);
        late.answer();
        await answered("design");
        tell(shown);
        """
    )
    assert shown == [None, None, 200]


def test_pieces_of_the_size_before_do_not_lie_behind_the_openings_of_the_new_one(told_by: Told) -> None:
    told = told_by(
        SET_UP
        + """
        const told = [];
        const note = () => told.push([bench.isBehind, bench.backingOfDesign?.about.reading.width_mm ?? null]);
        open("first");
        await answered("design", "backing");
        note();
        store.edit("", (project) => amend(project, "reading", { width_mm: 100 }));
        note();
        await answered("design");
        note();
        await answered("backing");
        note();
        tell([told, bench.backingOfDesign !== null]);
        """
    )
    assert told == [[[False, None], [True, None], [False, None], [False, 100]], True]


def test_a_size_that_is_refused_leaves_the_design_before_in_sight_and_says_so(told_by: Told) -> None:
    assert told_by(
        SET_UP
        + """
        open("first");
        await answered("design", "backing");
        store.edit("", (project) => amend(project, "reading", { width_mm: 1 }));
        (await called("design")).refuse();
        await settled();
        const shown = bench.design.about.reading.width_mm;
        const refused = [shown, bench.isBehind, bench.trouble.has("design"), bench.views];
        store.undo();
        await answered("backing");
        tell([refused, bench.isBehind, bench.trouble.has("design")]);
        """
    ) == [[None, True, True, None], False, False]


def test_what_a_mend_changed_shows_before_design_and_backing_are_made_anew(told_by: Told) -> None:
    assert told_by(
        SET_UP
        + """
        open("first");
        await answered("design", "backing");
        const mended = { ...store.project, mends: ["a bar"] };
        bench.prepare(mended, { of: "what is seen", is_whole: false });
        store.edit("", () => mended);
        const shown = [bench.design.of];
        await answered("touched-up");
        shown.push(bench.backingOfDesign.of, bench.views);
        await answered("design", "backing");
        tell([...shown, bench.design.of, bench.backing.of, bench.views !== null]);
        """
    ) == ["what is seen", "a part", None, "first", "first", True]


def test_papers_given_meanwhile_do_not_set_the_design_back(told_by: Told) -> None:
    assert told_by(
        SET_UP
        + """
        open("first");
        await answered("design", "backing");
        store.edit("", (project) => give(project, [1], "paper"));
        tell([bench.isBehind, bench.madeOf.design === store.project]);
        """
    ) == [False, True]


def test_a_late_timing_puts_no_plan_into_the_project_opened_meanwhile(told_by: Told) -> None:
    assert told_by(
        SET_UP
        + """
        open("first");
        await answered("design", "backing");
        void bench.seekPlan();
        await answered("plan", "preview");
        store.note((project) => amend(project, "plan", { rounds: [1] }));
        store.edit("", (project) => ({ ...project, speed: 2 }));
        const late = await called("plan");
        open("second");
        late.answer();
        await settled();
        tell([bench.plan, bench.planHolds]);
        """
    ) == [None, False]


def test_a_plan_sought_at_another_speed_is_timed_again(told_by: Told) -> None:
    assert (
        told_by(
            SET_UP
            + """
            open("first");
            await answered("design", "backing");
            void bench.seekPlan();
            const search = await called("plan");
            store.edit("", (project) => ({ ...project, speed: 2 }));
            const note = (project) => amend(project, "plan", { rounds: bench.plan.rounds });
            bench.addEventListener("planned", () => store.note(note), { once: true });
            search.answer();
            await answered("plan");
            tell(bench.plan.speed);
            """
        )
        == 2
    )


def test_a_search_that_was_stopped_keeps_its_best_but_not_for_another_project(told_by: Told) -> None:
    assert told_by(
        SET_UP
        + """
        open("first");
        await answered("design", "backing");
        const stop = async () => {
            void bench.seekPlan();
            const search = await called("plan");
            search.signal.addEventListener("abort", search.refuse);
            return search;
        };
        await stop();
        open("second");
        await settled();
        tell([bench.plan, bench.planning, [...bench.trouble.keys()]]);
        """
    ) == [None, None, []]


@pytest.mark.parametrize(
    ("part", "edit", "counts"),
    [
        ("project", "(project) => amend(project, 'reading', { width_mm: 100 })", True),
        ("design", "(project) => amend(project, 'reading', { width_mm: 100 })", False),
        ("design", "(project) => give(project, [1], 'paper')", True),
        ("backing", "(project) => give(project, [1], 'paper')", False),
        ("plan", "(project) => amend(project, 'plan', { mat_width_mm: 600 })", False),
        ("plan", "(project) => amend(project, 'plan', { rounds: [1] })", True),
        ("time", "(project) => ({ ...project, speed: 2 })", False),
    ],
)
def test_an_answer_counts_while_what_it_depends_on_is_as_it_was(
    told_by: Told, part: str, edit: str, counts: bool
) -> None:
    assert told_by(
        SET_UP
        + f"""
        open("first");
        let answer;
        const asked = questions.ask("{part}", () => new Promise((resolve) => {{ answer = resolve; }}));
        store.edit("", {edit});
        answer("answer");
        tell(await asked.catch((error) => error instanceof Overtaken));
        """
    ) == ("answer" if counts else True)
