"""Write what compiling for the browser's Python needs to know, all of it taken from the Pyodide package.

Run in the chroot by Debian's Python of the same version. Makes in /w: `sysconfig/` (the build-time
variables), `include/python3.14/` (Debian's headers with the browser's `pyconfig.h`), `exports.txt` (the names
that the main module exports).
"""

import re
import shutil
import zipfile
from pathlib import Path
from typing import Any

WORK = Path("/w")
# Macros that stand for words of C and not for strings, though their values are words.
UNQUOTED = {"RETSIGTYPE", "PY_BUILTIN_HASHLIB_HASHES_", "PY_FORMAT_SIZE_T", "inline", "size_t"}
ZERO_MEANS_ZERO = ("HAVE_DECL_", "ALIGNOF_", "SIZEOF_", "Py_HASH")


def build_time_variables() -> dict[str, Any]:
    """Keep and return the variables that the browser's Python was built with."""
    with zipfile.ZipFile(WORK / "pyodide" / "python_stdlib.zip") as stdlib:
        path = next(name for name in stdlib.namelist() if "_sysconfigdata_" in name)
        source = stdlib.read(path)
    folder = WORK / "sysconfig"
    folder.mkdir(exist_ok=True)
    (folder / Path(path).name).write_bytes(source)
    (folder / "name").write_text(Path(path).stem)
    found: dict[str, Any] = {}
    exec(source, found)
    variables: dict[str, Any] = found["build_time_vars"]
    if variables["SOABI"] != "cpython-314-wasm32-emscripten":
        raise SystemExit(f"the browser's Python has an unknown ABI: {variables['SOABI']}")
    return variables


def browser_pyconfig(native: str, variables: dict[str, Any]) -> str:
    """Return Debian's pyconfig.h with each macro set as in the browser's Python."""

    def line(match: re.Match[str]) -> str:
        name = match.group(1) or match.group(2)
        value = variables.get(name)
        if value in (None, "") or (value == 0 and not name.startswith(ZERO_MEANS_ZERO)):
            return f"/* #undef {name} */"
        bare = isinstance(value, int) or name in UNQUOTED or str(value).startswith('"')
        if bare or (re.fullmatch(r"[\w.()]+", value) and not value[0].isalpha()):
            return f"#define {name} {value}"
        return f'#define {name} "{value}"'

    return re.sub(r"^#define (\w+)(?: .*)?$|^/\* #undef (\w+) \*/$", line, native, flags=re.M)


def write_headers(variables: dict[str, Any]) -> None:
    """Copy Debian's headers and give them the browser's pyconfig.h; the native one leads there too."""
    # Debian keeps the real one under the machine's name; the one beside the other headers chooses among them.
    native = next(Path("/usr/include").glob("*/python3.14/pyconfig.h"))
    kept = native.with_name("pyconfig-native.h")
    if not kept.exists():
        shutil.copy(native, kept)
    include = WORK / "include" / "python3.14"
    shutil.copytree("/usr/include/python3.14", include, dirs_exist_ok=True)
    target = include / "pyconfig.h"
    target.write_text(browser_pyconfig(kept.read_text(), variables))
    if f"#define SIZEOF_VOID_P {variables['SIZEOF_VOID_P']}\n" not in target.read_text():
        raise SystemExit(f"{native} is not the pyconfig.h that was expected")
    for header in (native, Path("/usr/include/python3.14/pyconfig.h")):
        header.write_text(f"#include <{target}>\n")


def exported_names(module: bytes) -> list[str]:
    """Return the names in the export section of a WebAssembly module (core specification, 5.5.10)."""

    def number(at: int) -> tuple[int, int]:
        value = shift = 0
        while True:
            byte = module[at]
            at += 1
            value |= (byte & 127) << shift
            shift += 7
            if byte < 128:
                return value, at

    at, names = 8, []
    while at < len(module):
        section = module[at]
        size, begin = number(at + 1)
        if section == 7:
            count, place = number(begin)
            for _ in range(count):
                length, place = number(place)
                names.append(module[place : place + length].decode())
                _, place = number(place + length + 1)
        at = begin + size
    return names


if __name__ == "__main__":
    write_headers(build_time_variables())
    exports = exported_names((WORK / "pyodide" / "pyodide.asm.wasm").read_bytes())
    (WORK / "exports.txt").write_text("\n".join(sorted(set(exports))) + "\n")
    print(len(exports), "exported names")
