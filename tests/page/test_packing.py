"""Packing by several workers: how many, who gets what, and what comes of one that can't go on."""

from collections.abc import Callable
from typing import Any

Told = Callable[[str], Any]


def test_no_more_workers_than_cores_and_memory_allow(told_by: Told) -> None:
    told = told_by(
        """
        import { poolSize } from "./desk/pool.js";

        tell([
            poolSize({ hardwareConcurrency: 1, deviceMemory: 8 }),
            poolSize({ hardwareConcurrency: 4, deviceMemory: 8 }),
            poolSize({ hardwareConcurrency: 16, deviceMemory: 8 }),
            poolSize({ hardwareConcurrency: 8, deviceMemory: 4 }),
            poolSize({ hardwareConcurrency: 8, deviceMemory: 0.5 }),
            poolSize({ hardwareConcurrency: 8 }),
            poolSize({}),
        ]);
        """
    )
    assert told == [0, 4, 6, 4, 1, 2, 0]


def test_each_packer_gets_about_as_many_pieces(told_by: Told) -> None:
    told = told_by(
        """
        import { shared } from "./desk/packing.js";

        const work = [3, 9, 1, 5, 2].map((pieces, at) => ({ paper: `p${at}`, pieces, text: `${pieces}` }));
        tell([shared(work, 2), shared(work.slice(0, 2), 6), shared([], 2)]);
        """
    )
    assert told == [[["9", "1"], ["5", "3", "2"]], [["9"], ["3"]], []]


# A desk whose answers are known, and workers that hear what is asked and answer when the test says so.
SEARCH = """
import { Pool } from "./desk/pool.js";
import { seekPlan } from "./desk/packing.js";

const workers = [];
const pool = new Pool(() => {
    const worker = {
        heard: [],
        ended: false,
        terminate() { this.ended = true; },
        postMessage(data) { this.heard.push(data); },
    };
    workers.push(worker);
    return worker;
}, 2);
const work = [{ paper: "p1", pieces: 2, text: "one" }, { paper: "p2", pieces: 1, text: "two" }];
const asked = [];
const desk = {
    pool,
    async packing() { return { plan: null, work }; },
    async packed(project, found, isAll) {
        asked.push({ found: { ...found }, isAll });
        return { of: "packers" };
    },
    async planAlone() { return { of: "alone" }; },
};
const answer = (at, found) => {
    const { id } = workers[at].heard.at(-1);
    workers[at].onmessage({ data: { id, kind: "result", json: JSON.stringify({ found }), buffers: [] } });
};
const turn = () => new Promise((done) => setTimeout(done));
const search = (signal = new AbortController().signal) => seekPlan(desk, {}, 5, null, () => {}, signal);
"""


def test_what_packers_find_comes_together_in_one_plan(told_by: Told) -> None:
    told = told_by(
        SEARCH
        + """
        const plan = search();
        await turn();
        const given = workers.map(({ heard }) => heard.at(-1).arguments.work);
        answer(1, { p2: "second" });
        answer(0, { p1: "first" });
        tell([given, await plan, asked]);
        process.exit();
        """
    )
    together = {"found": {"p1": "first", "p2": "second"}, "isAll": True}
    assert told == [[["one"], ["two"]], {"of": "packers"}, [together]]


def test_a_packer_that_is_ended_is_started_anew_and_one_that_never_starts_leaves_it_to_the_desk(
    told_by: Told,
) -> None:
    told = told_by(
        SEARCH
        + """
        const plan = search();
        await turn();
        for (const worker of [...workers]) worker.onmessage({ data: { kind: "ready" } });
        answer(1, { p2: "second" });
        workers[0].onerror({ preventDefault() {}, message: "gone" });
        workers[0] = workers.pop();
        answer(0, { p1: "first" });
        const survived = await plan;
        const again = search();
        await turn();
        workers[1].onmessage({ data: { kind: "broken", message: "no memory" } });
        tell([survived, await again, pool.size, workers.map(({ ended }) => ended)]);
        process.exit();
        """
    )
    assert told == [{"of": "packers"}, {"of": "alone"}, 0, [True, True]]
