"""The browser's database is waited for, but not for good."""

from collections.abc import Callable
from typing import Any

Told = Callable[[str], Any]


def test_a_database_that_never_answers_is_told_and_one_that_answers_late_is_left(told_by: Told) -> None:
    assert told_by(
        """
        import { Database } from "./project/database.js";

        globalThis.setTimeout = (act) => setImmediate(act);
        const asked = [];
        globalThis.indexedDB = { open: () => asked[asked.push({}) - 1] };
        const database = new Database("name", 1, () => {});
        const failed = await database.run("store", "readonly", () => 1).catch(({ name }) => name);
        let closed = 0;
        for (const each of asked) {
            each.result = { close: () => { closed += 1; } };
            each.onsuccess();
        }
        tell([failed, asked.length, closed, database.connection]);
        """
    ) == ["TimeoutError", 2, 2, None]
