// Compiles the phone's Python: the shipped Pyodide does it, so that every .pyc fits the interpreter that loads it.
// node bundle.mjs JOB.json; the job names the npm folder of Pyodide, the sources, the script that works inside, and
// where to write the archives. Prints what inside.py found out, as JSON.
import { readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";

const job = JSON.parse(await readFile(process.argv[2], "utf8"));
const { loadPyodide } = await import(pathToFileURL(join(job.pyodide, "pyodide.mjs")).href);
const pyodide = await loadPyodide({ indexURL: job.pyodide, env: { HOME: "/", PYTHONHASHSEED: "0" } });

for (const [name, path] of Object.entries(job.sources)) {
  const inside = `/src/${name}`;
  pyodide.FS.mkdirTree(dirname(inside));
  pyodide.FS.writeFile(inside, await readFile(path));
}
pyodide.globals.set("JOB", JSON.stringify({ names: Object.keys(job.sources).sort() }));
let found;
try {
  found = JSON.parse(pyodide.runPython(await readFile(job.script, "utf8")));
} catch (error) {
  process.stderr.write(`${error.message}\n`); // the Python traceback; Node would print the whole of Pyodide's core
  process.exit(1);
}
for (const name of found.archives) {
  await writeFile(join(job.out, name), pyodide.FS.readFile(`/out/${name}`));
}
process.stdout.write(JSON.stringify(found));
