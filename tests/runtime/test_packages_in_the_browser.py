import json
from pathlib import Path

from workshop.runtime.gather import gather
from workshop.runtime.node import in_node
from workshop.runtime.slim import LIBRARY, library_in_a_page, wheel_in_a_page
from workshop.runtime.wheel import unzipped, zip_bytes
from workshop.runtime.wheelhouse import package_wheel, pure_wheels


def test_the_package_opens_its_desk(runtime):
    told = in_node(
        runtime,
        "from peekpaper.desk.desk import Desk\nstr(hasattr(Desk(), 'steps'))",
        ["peekpaper"],
    )
    assert told == "True"


def test_an_error_in_geos_arrives_as_a_python_exception_and_counting_points_does_not_end_the_program(runtime):
    """shapely 2.1.2 counts by a function of fewer arguments than it declares, which WebAssembly refuses."""
    code = """
import json, shapely
try:
    shapely.from_wkt("POLYGON ((0 0")
    told = "nothing"
except shapely.errors.GEOSException as error:
    told = str(error)
json.dumps([told, int(shapely.get_num_points(shapely.from_wkt("LINESTRING (0 0, 1 1, 2 0)")))])
"""
    told, points = json.loads(in_node(runtime, code, ["shapely"]))
    assert "ParseException" in told
    assert points == 3


def test_micropip_installs_the_package_and_its_dependencies_from_the_same_folder(runtime):
    code = """
import micropip
await micropip.install("peekpaper")
import peekpaper, shapely, tinycss2
import json
json.dumps(sorted(str(name) for name in micropip.list()))
"""
    installed = json.loads(in_node(runtime, code, ["micropip"]))
    assert {"peekpaper", "shapely", "numpy", "tinycss2", "cssselect2"} <= set(installed)


def test_what_only_sheets_need_imports_once_it_is_loaded(runtime):
    parts = json.loads((runtime / "parts.json").read_text())["parts"]
    for_sheets = [part["name"] for part in parts if part["when"] in {"dxf", "sheets"}]
    code = """
import io
import ezdxf, fpdf, segno
drawing = ezdxf.new("R2010")
drawing.modelspace().add_lwpolyline([(0, 0), (10, 0), (10, 5)])
text = io.StringIO()
drawing.write(text)
page = fpdf.FPDF(unit="mm")
page.add_page()
page.line(0, 0, 10, 10)
str((text.getvalue().count("LWPOLYLINE") > 0, bytes(page.output())[:5], segno.make("1").version))
"""
    assert in_node(runtime, code, ["peekpaper", *for_sheets]) == "(True, b'%PDF-', 'M1')"


def test_what_was_left_out_is_missed_by_nothing_that_is_shipped(runtime, tmp_path):
    """Imports at the top of each module of each part are looked up among what the page's library holds."""
    gathered = gather(print)
    name, package = package_wheel()
    left_out = []
    for file, data in {
        LIBRARY: gathered.core[LIBRARY],
        **gathered.wheels,
        **pure_wheels(),
        name: package,
    }.items():
        whole = unzipped(data)
        kept = library_in_a_page(whole) if file == LIBRARY else wheel_in_a_page(whole)
        left_out += [path for path in whole.keys() - kept.keys() if path.endswith(".py")]
        (tmp_path / file).write_bytes(zip_bytes(kept))
    code = f"""
import json, sys
from pathlib import Path
sys.path.insert(0, "/tests")
from imports_at_the_top import missing_imports
json.dumps(sorted(missing_imports(Path("/archives"), {left_out!r})))
"""
    mounts = {tmp_path: "/archives", Path(__file__).parent: "/tests"}
    missing = json.loads(in_node(runtime, code, mounts=mounts))
    assert left_out
    assert missing == []


def test_words_are_drawn_by_the_part_that_is_made_for_them(runtime):
    parts = json.loads((runtime / "parts.json").read_text())["parts"]
    names = [part["name"] for part in parts if part["when"] in {"lettering", "letters"}]
    code = """
from peekpaper.sources.lettering.draw import with_outlines
from peekpaper.sources.lettering.typeface import stand_in
lettered = with_outlines('<svg xmlns="http://www.w3.org/2000/svg"><text>A</text></svg>', (), stand_in())
str(lettered.count('data-drawn-in="Arimo"'))
"""
    assert in_node(runtime, code, ["peekpaper", *names]) == "1"
