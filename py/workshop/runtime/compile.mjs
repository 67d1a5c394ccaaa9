// Compiles Python source to byte code with the very interpreter that will run it.
// The paths in the archive are "ARCHIVE//PATH"; tracebacks will name the second half.
// usage: node compile.mjs FOLDER_OF_PYODIDE IN.zip OUT.zip OPTIMIZE   (OPTIMIZE as in compile(): 0, 1 or 2)
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [folder, source, target, optimize] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(`${folder}/pyodide.mjs`).href);
// Sets of constants are written in the order of their hashes.
const env = { HOME: "/home", PYTHONHASHSEED: "0" };
const pyodide = await loadPyodide({ indexURL: `${folder}/`, env });
pyodide.FS.writeFile("/in.zip", readFileSync(source));
pyodide.globals.set("optimize", Number(optimize));
pyodide.runPython(`
import importlib.util, marshal, zipfile

# A header that says: unchecked, so that neither times nor sources are looked at (PEP 552).
HEADER = importlib.util.MAGIC_NUMBER + (1).to_bytes(4, "little") + bytes(8)

with zipfile.ZipFile("/in.zip") as source, zipfile.ZipFile("/out.zip", "w", zipfile.ZIP_STORED) as target:
    for path in sorted(source.namelist()):
        name = path.partition("//")[2]
        code = compile(source.read(path), name, "exec", dont_inherit=True, optimize=optimize)
        target.writestr(zipfile.ZipInfo(path + "c"), HEADER + marshal.dumps(code))
`);
writeFileSync(target, pyodide.FS.readFile("/out.zip"));
