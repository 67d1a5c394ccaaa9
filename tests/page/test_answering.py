"""In what order a worker answers the page's calls."""

# Python whose calls take so many breaths before their answer; `answers` are the ids in the order they come.
SET_UP = """
import { MessageChannel } from "node:worker_threads";
globalThis.MessageChannel = MessageChannel;
let hear = () => {};
const [answers, listeners] = [[], []];
const whole = (data) => ({ data: { arguments: {}, buffers: [], ...data } });
globalThis.addEventListener = (_, act) => { hear = (data) => act(whole(data)); };
globalThis.postMessage = ({ id, kind }) => {
  if (kind === "result") answers.push(id);
  for (const listener of listeners) listener();
};
const answered = (count) =>
  new Promise((resolve) => listeners.push(() => answers.length === count && resolve()));
const { answerCalls } = await import("./desk/answering.js");
const breaths = { backing: 40, open: 20, edit: 2, open_link: Infinity };
const start = async (call) => {
  let left = breaths[call] + 2;
  const kindOf = () => (left > 1 ? "breath" : "result");
  return { close() {}, next: () => ((left -= 1) > 0 ? { kind: kindOf(), json: "{}", buffers: [] } : null) };
};
answerCalls(Promise.resolve({ start, need: async () => {} }));
"""


def test_a_file_that_is_opened_does_not_wait_for_what_is_made_of_the_one_before(told_by):
    assert told_by(
        SET_UP
        + """
        hear({ id: 1, call: "backing" });
        hear({ id: 2, call: "open" });
        hear({ id: 3, call: "edit" });
        await answered(3);
        tell(answers);
        process.exit(0);
        """
    ) == [3, 2, 1]


def test_what_waits_for_a_file_goes_on_once_that_is_stopped(told_by):
    assert told_by(
        SET_UP
        + """
        hear({ id: 1, call: "backing" });
        hear({ id: 2, call: "open_link" });
        setTimeout(() => hear({ id: 2, cancel: true }), 20);
        await answered(1);
        tell(answers);
        process.exit(0);
        """
    ) == [1]
