#!/usr/bin/python3.14 -IS
"""Stand in for emcc and em++: compile with clang directly, which saves emcc's start-up for each file.

Linked as `wcc` and `wc++` in the chroot. Side modules are still linked by emcc itself. The link tests of
configure scripts are answered by wasm-ld against what Pyodide's main module exports, so that a function
counts as present exactly where the interpreter in the browser has it.
"""

import os
import subprocess
import sys

CPP = os.path.basename(sys.argv[0]) == "wc++"
CLANG = "/usr/bin/clang++-21" if CPP else "/usr/bin/clang-21"
# What emcc 6.0 hands to clang for exceptions and longjmp of the kind that Pyodide's main module uses.
MACHINE = [
    *("-mllvm", "-combiner-global-alias-analysis=false", "-mllvm", "-wasm-enable-sjlj"),
    *("-mllvm", "-wasm-use-legacy-eh", "-mllvm", "-disable-lsr"),
]
COMPILE = [
    *("-target", "wasm32-unknown-emscripten", *MACHINE, "--sysroot=/w/emcache/sysroot"),
    *("-Xclang", "-iwithsysroot/include/compat", "-g0", "-fPIC", "-fwasm-exceptions"),
    *("-DPY_CALL_TRAMPOLINE", "-Wno-unused-command-line-argument"),
]
COMPILE_ONLY = {
    "-c",
    "-E",
    "-S",
    "-fsyntax-only",
    "-M",
    "-MM",
    "-print-search-dirs",
    "-dumpversion",
    "-dumpmachine",
}
NOT_FOR_WASM = {"-pthread", "-g", "-lm", "-ldl", "-lpthread", "-Wl,--as-needed"}
NOT_FOR_SIDE_MODULE = {
    *("-shared", "-Wl,-O1", "-Wl,--allow-shlib-undefined", "-fPIC", "-Wl,--start-group", "-Wl,--end-group"),
}
SOURCES = (".c", ".cc", ".cpp", ".cxx")


def dropped(word: str) -> bool:
    """Whether an argument means nothing to clang for this target (emcc's own `-sSETTING` included)."""
    return word in NOT_FOR_WASM or (word.startswith("-s") and word[2:3].isupper())


def compiled(words: list[str], out: str) -> list[str]:
    """Compile the sources among a link command's words; returns the words with objects in their place."""
    flags = [
        word
        for word in words
        if word.startswith(("-I", "-D", "-O", "-f", "-m", "-W", "-std", "-U", "-include"))
        and not word.startswith("-Wl,")
    ]
    linked = []
    for word in words:
        if word.startswith("-") or not word.endswith(SOURCES):
            linked.append(word)
            continue
        made = f"{out}.{len(linked)}.o"
        if code := subprocess.call([CLANG, *COMPILE, *flags, "-c", word, "-o", made]):
            sys.exit(code)
        linked.append(made)
    return linked


def link_side_module(words: list[str], out: str) -> int:
    """Link a shared object that Pyodide loads; it exports its module's init function and no more."""
    module = os.path.basename(out).split(".")[0]
    exports = os.environ.get("WCC_EXPORTS") or f"_PyInit_{module}"
    kept = [
        word
        for word in words
        if word not in NOT_FOR_SIDE_MODULE
        and (word.startswith("-Wl,") or not word.startswith(("-I", "-D", "-std", "-W")))
    ]
    command = [
        *("/usr/bin/em++" if CPP else "/usr/bin/emcc", "-sSIDE_MODULE=2", "-O2", "-g0", "-fwasm-exceptions"),
        *("-sSUPPORT_LONGJMP=wasm", "-sWASM_BIGINT", f"-sEXPORTED_FUNCTIONS={exports}", "-Wno-experimental"),
        *(*kept, "-o", out),
    ]
    return subprocess.call(command, env={**os.environ, "EM_CACHE": "/w/emcache"})


def link_test(words: list[str], out: str) -> int:
    """Link against the main module's exports alone, and fail for any symbol that it lacks."""
    objects = [word for word in words if word.endswith((".o", ".a"))]
    return subprocess.call(
        [
            *(
                "/usr/bin/wasm-ld-21",
                "--no-entry",
                "-shared",
                "--no-export-dynamic",
                "--export-if-defined=main",
            ),
            *("--export-if-defined=__main_argc_argv", "--unresolved-symbols=report-all"),
            *("--allow-undefined-file=/w/exports.txt", *MACHINE[2:], *objects, "-o", out),
        ]
    )


def main(words: list[str]) -> int:
    """Do what a compiler driver does with these arguments; returns the exit code."""
    if "-Wl,--version" in words:
        return subprocess.call(["/usr/bin/wasm-ld-21", "--version"])
    if "--version" in words:
        print("emcc (Emscripten gcc/clang-like replacement + linker emulating GNU ld) 6.0.5 ()")
        return 0
    kept = [word for word in words if not dropped(word)]
    if COMPILE_ONLY & set(words):
        return subprocess.call([CLANG, *COMPILE, *kept])
    out = words[words.index("-o") + 1] if "-o" in words else "a.out"
    if "-o" in kept:
        at = kept.index("-o")
        del kept[at : at + 2]
    linked = compiled(kept, out)
    return link_side_module(linked, out) if ".so" in os.path.basename(out) else link_test(linked, out)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
