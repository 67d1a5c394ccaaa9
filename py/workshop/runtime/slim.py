"""The interpreter's library and the wheels made light: byte code, without what no page uses."""

from collections.abc import Mapping

from workshop.runtime.bytecode import Keeping, compiled
from workshop.runtime.wheel import repacked, unzipped, zip_bytes

# Modules for terminals, servers, mail, debuggers and other processes, and Python doubles of C modules:
# nothing in a browser's worker can use them. Folders end in a slash.
NOT_IN_A_PAGE = (
    *("_pydatetime.py", "_pydecimal.py", "_pyio.py", "_pyrepl/", "antigravity.py", "asyncio/__main__.py"),
    *("bdb.py", "cProfile.py", "cmd.py", "compileall.py", "concurrent/futures/process.py", "curses/"),
    *(
        "doctest.py",
        "ensurepip/",
        "ftplib.py",
        "http/cookiejar.py",
        "http/server.py",
        "idlelib/",
        "imaplib.py",
    ),
    *("logging/config.py", "mailbox.py", "modulefinder.py", "multiprocessing/", "netrc.py", "pdb.py"),
    *("pickletools.py", "poplib.py", "profile.py", "pstats.py", "pty.py", "pyclbr.py", "pydoc.py"),
    *("pydoc_data/", "pyodide/console.py", "rlcompleter.py", "smtplib.py", "socketserver.py", "tabnanny.py"),
    *(
        "this.py",
        "trace.py",
        "tty.py",
        "turtle.py",
        "turtledemo/",
        "venv/",
        "wsgiref/",
        "xmlrpc/",
        "zipapp.py",
    ),
)

LIBRARY = "python_stdlib.zip"

# Whole parts of libraries that none of our calls reaches: other file formats, tools for the command line.
NOT_CALLED = (
    *("ezdxf/__main__.py", "ezdxf/acis/", "ezdxf/addons/acisbrowser/", "ezdxf/addons/browser/"),
    *("ezdxf/addons/drawing/", "ezdxf/addons/dwg/", "ezdxf/addons/hpgl2/", "ezdxf/addons/xplayer.py"),
    "ezdxf/commands.py",
    *("fontTools/cu2qu/", "fontTools/diff/", "fontTools/merge/", "fontTools/mtiLib/"),
    *("fontTools/pens/cu2quPen.py", "fontTools/pens/qu2cuPen.py", "fontTools/qu2cu/", "fontTools/ufoLib/"),
    *("fontTools/voltLib/", "fontpkg_arimo/files/Arimo-Italic", "numpy/_pyinstaller/", "numpy/char/"),
    *("numpy/conftest.py", "numpy/core/", "numpy/doc/", "numpy/linalg/lapack_lite"),
    *("numpy/matlib.py", "numpy/polynomial/", "numpy/random/_examples/", "numpy/rec/"),
)
# Imported, but all they do is write docstrings.
EMPTIED = ("numpy/_core/_add_newdocs.py", "numpy/_core/_add_newdocs_scalars.py")
NOT_RUN = (".c", ".h", ".in", ".pxd", ".pyi", ".pyx", "py.typed")


def slim(archives: Mapping[str, bytes], core: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return the interpreter's library and libraries' wheels (by file name) as byte code without docstrings.

    What a page can't use is left out; licences are told in the site's notices instead of each wheel. `core`
    holds the files of Pyodide's npm package. Raises Stopped where Node.js can't run the interpreter.
    """
    opened = {
        name: library_in_a_page(unzipped(archive)) if name == LIBRARY else wheel_in_a_page(unzipped(archive))
        for name, archive in archives.items()
    }
    made = compiled(opened, Keeping.NEITHER_ASSERTS_NOR_DOCSTRINGS, core)
    return {
        name: zip_bytes(files) if name == LIBRARY else repacked(name, files) for name, files in made.items()
    }


def compiled_wheel(file: str, wheel: bytes, core: Mapping[str, bytes]) -> bytes:
    """Return a wheel (of that file name) as byte code that keeps everything, for code of our own."""
    return repacked(file, compiled({file: unzipped(wheel)}, Keeping.EVERYTHING, core)[file])


def library_in_a_page(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return the interpreter's library without the modules that a page can't use."""
    return {path: data for path, data in files.items() if not path.startswith(NOT_IN_A_PAGE)}


def wheel_in_a_page(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return a wheel's files without what no call of ours reaches, and of its own notes the metadata."""
    kept = {}
    for path, data in files.items():
        folder, _, inner = path.partition("/")
        if folder.endswith(".dist-info"):
            if inner == "METADATA":
                # The description follows the first empty line.
                kept[path] = data.replace(b"\r\n", b"\n").partition(b"\n\n")[0] + b"\n"
        elif not path.startswith(NOT_CALLED) and not path.endswith(NOT_RUN):
            kept[path] = b"" if path in EMPTIED else data
    return kept
