// node imports.mjs JOB.json: starts the Pyodide of the phones with the two archives of the bundle, as engine.js does,
// and runs the job's script there; its last value is printed.
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const job = JSON.parse(await readFile(process.argv[2], "utf8"));
const { loadPyodide } = await import(pathToFileURL(join(job.core, "pyodide.mjs")).href);
const { core, library, lock } = job;
const pyodide = await loadPyodide({ indexURL: core, stdLibURL: library, lockFileContents: lock, env: { HOME: "/" } });
pyodide.FS.writeFile("/app.zip", await readFile(job.app));
pyodide.FS.writeFile("/asked.json", JSON.stringify(job.asked));
console.log(pyodide.runPython(job.script));
