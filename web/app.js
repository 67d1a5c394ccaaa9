/**
 * Peekpaper's page. How the modules fit:
 *
 * - `project/` holds the truth, the project document: `store` (the open one, undo), `edits` (pure changes),
 *   `archive`, `keeper`, `pictures` and `stash` (what this browser keeps, in its `database`), `tab-guard`.
 * - `desk/` asks the package for everything computed: `workers` starts what holds Python, `messenger` matches answers to
 *   calls, `pool` holds further workers for `packing` papers, `desk` types the calls, `questions` drops answers about what is no longer so, `bench` keeps design,
 *   backing and plan in step with the document.
 * - `stage/` draws on the table: `stage` (canvas, view, gestures), `layers/` (one thing drawn each), papers as
 *   paint, openings found under a finger.
 * - `places/` are the four places, each a shelf beside the table and a scene upon it; `workroom` is what they
 *   share. A new place or part of one touches nothing else.
 * - `shell/` is what surrounds them: ways in and out, the menu, loading, hands on the table.
 * - `help/` tells in place what each control does.
 * - `parts/` are controls, `words/` everything said, `styles/` everything seen.
 *
 * Data goes round one way: hand -> edit -> store -> bench (worker) -> place and stage.
 */

import { Help } from "./help/help.js";
import { Bench } from "./desk/bench.js";
import { Desk } from "./desk/desk.js";
import { Messenger } from "./desk/messenger.js";
import { Pool, poolSize } from "./desk/pool.js";
import { Questions } from "./desk/questions.js";
import { answeringWorker, packingWorker } from "./desk/workers.js";
import { Notices } from "./parts/notices.js";
import { Session } from "./parts/session.js";
import { Workroom } from "./places/workroom.js";
import { Archive } from "./project/archive.js";
import { Pictures } from "./project/pictures.js";
import { Stash } from "./project/stash.js";
import { Store } from "./project/store.js";
import { find } from "./parts/dom.js";
import { Shell } from "./shell/shell.js";
import { TableHands } from "./shell/table-hands.js";
import { PaperPaint } from "./stage/paper-paint.js";
import { learn } from "./words/words.js";

/** Sets the page up once there are words for it. */
async function setUp() {
  try {
    await learn();
  } catch {
    find("#wordless", HTMLElement).hidden = false;
    return;
  }
  new Help();
  const store = new Store();
  const session = new Session();
  const messenger = new Messenger(answeringWorker);
  const desk = new Desk(messenger, new Pool(packingWorker, poolSize(navigator)));
  const questions = new Questions();
  store.addEventListener("change", () => store.project && questions.follow(store.project));
  const bench = new Bench(desk, questions);
  const archive = new Archive();
  const pictures = new Pictures(archive);
  /** @type {Shell | undefined} */
  let shell;
  const hands = new TableHands(find("#stage", HTMLElement), () => {
    if (!shell) throw new Error("the table was touched before the page was set up");
    return shell.place;
  });
  const room = new Workroom({
    store,
    desk,
    questions,
    bench,
    session,
    pictures,
    stash: new Stash(archive, desk),
    paint: new PaperPaint(pictures),
    notices: new Notices(find("#notices", HTMLElement)),
    repaint: (region) => hands.stage.repaint(region),
    lookAt: (box) => hands.stage.lookAt(box),
    view: () => hands.stage.view,
  });
  hands.work(room);
  shell = new Shell(room, messenger, hands, archive);
  messenger.start();
  await shell.begin();
}

void setUp();
