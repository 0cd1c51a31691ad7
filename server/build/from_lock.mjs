// Loads Dewbook by Pyodide's own loader from a lock file, and works out one superheat. Told on standard input where.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const { pyodide, folder, inputs } = JSON.parse(readFileSync(0, "utf-8"));
const { loadPyodide } = await import(pathToFileURL(`${pyodide}/pyodide.mjs`).href);
const engine = await loadPyodide({
  indexURL: `${pyodide}/`,
  lockFileURL: `${folder}/pyodide-lock.json`,
  packageBaseUrl: `${folder}/`,
  stdout: () => {},
});
await engine.loadPackage("dewbook", { messageCallback: () => {} });
engine.globals.set("inputs", engine.toPy(inputs));
console.log(engine.runPython("import json; from calc.working import run; json.dumps(run('superheat', inputs).to_json())"));
