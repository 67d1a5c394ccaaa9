"""Python knows the design file that a call names, however often it is started anew."""

from collections.abc import Callable
from typing import Any

Told = Callable[[str], Any]

# A worker that answers as Python does, from the files that it was handed; those of the page end it at will.
SET_UP = """
import { Desk } from "./desk/desk.js";
import { Messenger } from "./desk/messenger.js";

const workers = [];
class FakeWorker {
    constructor() {
        this.sources = new Map();
        this.handed = 0;
        this.mute = false;
        workers.push(this);
    }
    terminate() { this.ended = true; }
    postMessage({ id, call, arguments: args }) {
        if (call === "keep_source") {
            this.handed += 1;
            this.sources.set(args.key, args.svg);
        }
        if (this.mute) return;
        const svg = this.sources.get(args.project?.source.key);
        const known = call === "keep_source" || svg !== undefined;
        const json = JSON.stringify(known ? { svg } : { message: "not kept" });
        const data = { id, kind: known ? "result" : "unknown-source", json, buffers: [] };
        queueMicrotask(() => this.onmessage({ data }));
    }
}
const messenger = new Messenger(() => new FakeWorker());
messenger.start();
const desk = new Desk(messenger);
const project = (svg) => ({ id: svg, source: { name: "window.svg", svg } });
const worker = () => workers.at(-1);
"""


def test_calls_about_an_earlier_design_are_answered_by_a_worker_started_anew(told_by: Told) -> None:
    answers = told_by(
        SET_UP
        + """
        worker().mute = true;
        const asked = ["first", "second", "third"].map((svg) => desk.design(project(svg)));
        messenger.restart();
        tell((await Promise.all(asked)).map(({ svg }) => svg));
        """
    )
    assert answers == ["first", "second", "third"]


def test_a_design_file_is_handed_over_once_for_all_calls_about_it(told_by: Told) -> None:
    handed = told_by(
        SET_UP
        + """
        for (const svg of ["first", "second", "first", "second"]) await desk.design(project(svg));
        tell(worker().handed);
        """
    )
    assert handed == 2


def test_a_design_file_that_python_does_not_know_after_all_is_handed_over_again(told_by: Told) -> None:
    svg, handed = told_by(
        SET_UP
        + """
        await desk.design(project("first"));
        worker().sources.clear();
        const { svg } = await desk.design(project("first"));
        tell([svg, worker().handed]);
        """
    )
    assert svg == "first"
    assert handed == 2


def test_a_design_file_that_never_arrives_is_asked_for_once_more_and_no_oftener(told_by: Told) -> None:
    asked = told_by(
        SET_UP
        + """
        worker().sources.set = () => {};
        tell([await desk.design(project("first")).catch((error) => error.message), worker().handed]);
        """
    )
    assert asked == ["not kept", 2]


def test_files_that_python_let_go_are_no_longer_handed_over(told_by: Told) -> None:
    kept, last = told_by(
        SET_UP
        + """
        for (let turn = 0; turn < 20; turn += 1) await desk.design(project(`design ${turn}`));
        messenger.restart();
        tell([worker().handed, (await desk.design(project("design 0"))).svg]);
        """
    )
    assert kept == 8
    assert last == "design 0"
