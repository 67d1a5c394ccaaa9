"""The desk: every call that the page makes of the package, as steps that the worker can show and stop."""

import json
from collections.abc import Iterator, Sequence

from peekpaper.desk import (
    booking,
    designing,
    documents,
    editing,
    lettering,
    mending,
    papering,
    planning,
    stashing,
    taking,
    tracing,
)
from peekpaper.desk.context import Call, Context, UnknownSource
from peekpaper.desk.step import Step, step
from peekpaper.project.codec import Mismatch
from peekpaper.refusal import Refusal

CALLS: dict[str, Call] = {
    "demo": documents.demo,
    "open": documents.open_file,
    "sort_files": documents.sort_files,
    "keep_source": documents.keep_source,
    "save": documents.save,
    "link": documents.link,
    "open_link": documents.open_link,
    "save_shelf": documents.save_shelf,
    "read_length": documents.read_length,
    "edit": editing.edit,
    "uses": editing.uses,
    "design": designing.design,
    "design_seen": designing.design_seen,
    "readings": designing.readings,
    "backing": designing.backing,
    "backing_touched_up": designing.backing_touched_up,
    "mends": mending.mends,
    "mend_all": mending.mend_all,
    "lighter": mending.lighter,
    "cut_shapes": mending.cut_shapes,
    "try_mend": mending.try_mend,
    "openings_in": designing.openings_in,
    "start_page": designing.start_page,
    "lay_in": stashing.lay_in,
    "stash_view": stashing.stash_view,
    "reorder": stashing.reorder_list,
    "stash_touches": stashing.stash_touches,
    "save_stash": stashing.save_stash,
    "add_to_stash": stashing.add_to_stash,
    "book": booking.book,
    "take_back": booking.take_back,
    "read_history": booking.read_history,
    "suggest": papering.suggest,
    "likeness": papering.likeness,
    "motifs": papering.motifs,
    "photo_papers": papering.photo_papers,
    "colour_stories": papering.colour_stories,
    "square_picture": papering.square_picture,
    "look_at_picture": tracing.look_at_picture,
    "words": lettering.words,
    "letter": lettering.letter,
    "picture_in": tracing.picture_in,
    "trace_picture": tracing.trace_picture,
    "find_scrap": tracing.find_scrap,
    "measure_scrap": tracing.measure_scrap,
    "plan": planning.plan,
    "packing": planning.packing,
    "packed": planning.packed,
    "preview": planning.preview,
    "place_piece": planning.place_piece,
    "place_trim": planning.place_trim,
    "calibrate": planning.calibrate,
    "checklist": taking.checklist,
    "prepare_sheets": taking.prepare_sheets,
    "sheets": taking.sheets,
    "qr": taking.qr,
    "page_picture": taking.page_picture,
    "page_sizes": taking.page_sizes,
}


class Desk:
    """Answers the page's calls; it keeps sources and what was computed from them, and no decisions."""

    def __init__(self) -> None:
        self._context = Context()

    def steps(self, call: str, arguments: str, buffers: Sequence[bytes] = ()) -> Iterator[Step]:
        """Yield the steps of the call named `call`: any progress, then one result, refusal or unknown source.

        `arguments` is JSON text; `buffers` are the bytes that it names as `{"buffer": index}`.
        Raises KeyError for a call that the desk doesn't know.
        """
        try:
            yield from CALLS[call](self._context, json.loads(arguments), buffers)
        except Refusal as refusal:
            yield _refused(refusal)
        except UnknownSource as unknown:
            yield step("unknown-source", {"message": f"unknown source: {unknown}"})
        except Mismatch as mismatch:
            yield _refused(Refusal("not-kept", mismatch=mismatch.message))


def _refused(refusal: Refusal) -> Step:
    return step("refusal", {"code": refusal.code, "message": refusal.message.told()})
