// Runs Python code with the built runtime under Node.js; its last expression, a string, goes to standard output.
// usage: node run.mjs RUNTIME_FOLDER CODE.py PACKAGES [HOST_FOLDER=MOUNT_POINT ...]
// PACKAGES are names for loadPackage with commas between. STDLIB in the environment names another library.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [folder, script, packages, ...mounts] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(`${folder}/pyodide.mjs`).href);
const pyodide = await loadPyodide({
  indexURL: `${folder}/`,
  ...(process.env.STDLIB ? { stdLibURL: process.env.STDLIB } : {}),
  stdout: (line) => console.error(line),
});
for (const mount of mounts) {
  const [host, inside] = mount.split("=");
  pyodide.mountNodeFS(inside, host);
}
await pyodide.loadPackage(packages.split(",").filter(Boolean), { messageCallback: () => {} });
try {
  process.stdout.write(String(await pyodide.runPythonAsync(readFileSync(script, "utf8"))));
} catch (error) {
  // Left to itself, Node.js would show the whole line of minified code that threw.
  console.error(String(error));
  process.exitCode = 1;
}
