"""Packing the cross-built numpy and shapely as wheels that Pyodide loads.

Tests, headers and stubs are left out.
"""

from pathlib import Path

from workshop.runtime.pins import NUMPY, SHAPELY, WHEEL_TAG
from workshop.runtime.wheel import unzipped, wheel_bytes

NOT_NEEDED = (".pyi", ".h", ".a", ".pxd", ".f", ".f90", "/RECORD", "/WHEEL")

# shapely's extension modules share one object file, so that GEOS is linked once.
SHIM = '''"""Load this extension module from the one shared object that holds all of them."""
import importlib.machinery
import importlib.util
import pathlib
import sys

_path = str(pathlib.Path(__file__).with_name("lib.cpython-314-wasm32-emscripten.so"))
_loader = importlib.machinery.ExtensionFileLoader(__name__, _path)
_spec = importlib.util.spec_from_file_location(__name__, _path, loader=_loader)
_module = importlib.util.module_from_spec(_spec)
sys.modules[__name__] = _module
_loader.exec_module(_module)
'''


def packed_wheels(built: Path) -> dict[str, bytes]:
    """Return the wheels of numpy and shapely by file name, from the build's folder."""
    parts = ((NUMPY, _numpy_files(built)), (SHAPELY, _shapely_files(built)))
    return {
        f"{pin.name}-{pin.version}-{WHEEL_TAG}.whl": wheel_bytes(pin.name, pin.version, WHEEL_TAG, files)
        for pin, files in parts
    }


def _numpy_files(built: Path) -> dict[str, bytes]:
    wheel = next((built / "out").glob(f"numpy-{NUMPY.version}-*.whl"))
    return {
        path: data
        for path, data in unzipped(wheel.read_bytes()).items()
        if not path.endswith(NOT_NEEDED) and "/tests/" not in path and "/f2py/" not in path
    }


def _shapely_files(built: Path) -> dict[str, bytes]:
    source = built / "src" / f"shapely-{SHAPELY.version}"
    files = {
        path.relative_to(source).as_posix(): path.read_bytes()
        for path in (source / "shapely").rglob("*")
        if path.suffix in (".py", ".so") and "tests" not in path.parts
    }
    for module in ("_geos", "_geometry_helpers"):
        files[f"shapely/{module}.py"] = SHIM.encode()
    info = f"shapely-{SHAPELY.version}.dist-info"
    files[f"{info}/METADATA"] = (source / "PKG-INFO").read_bytes()
    files[f"{info}/licenses/LICENSE.txt"] = (source / "LICENSE.txt").read_bytes()
    files[f"{info}/licenses/LICENSE_GEOS"] = next((built / "src").glob("geos-*/COPYING")).read_bytes()
    return files
