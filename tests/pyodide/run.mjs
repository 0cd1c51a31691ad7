// node run.mjs JOB.json: starts Pyodide, mounts what the job names, runs the job's script; exits with its last value.
import { readFile, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";

const job = JSON.parse(await readFile(process.argv[2], "utf8"));
const { loadPyodide } = await import(pathToFileURL(join(job.pyodide, "pyodide.mjs")).href);
const pyodide = await loadPyodide({ indexURL: job.pyodide, env: { HOME: "/tmp", PYTHONDONTWRITEBYTECODE: "1" } });
const mount = (from, to) => {
  pyodide.FS.mkdirTree(to);
  pyodide.FS.mount(pyodide.FS.filesystems.NODEFS, { root: from }, to);
};
mount(job.repo, "/repo");
mount(job.folder, "/job");
pyodide.FS.mkdirTree("/packages");
for (const [name, path] of Object.entries(job.packages)) {
  if ((await stat(path)).isDirectory()) mount(path, `/packages/${name}`);
  else pyodide.FS.writeFile(`/packages/${basename(path)}`, await readFile(path));
}
try {
  process.exitCode = pyodide.runPython(await readFile(job.script, "utf8"));
} catch (error) {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
}
