// Reads a job on standard input, prints seconds: stock (bare loadPyodide as it comes), start (our bundle to its first
// page), warm (median of further pages).
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const job = JSON.parse(readFileSync(0, "utf8"));
const file = (name) => job.gen + job.manifest.files.find((one) => one.name === name).file;
const core = file("pyodide/pyodide.mjs");
const { loadPyodide } = await import(pathToFileURL(core).href);
const seconds = async (work) => {
  const begun = performance.now();
  await work();
  return (performance.now() - begun) / 1000;
};
let step;
const say = (call) => JSON.parse(step(JSON.stringify(call)));
const page = () => {
  for (let round = 0; round < 4; round += 1) {
    const { page, need } = say({ op: "ask", request: job.request });
    if (page) return page;
    const subjects = need.subjects.map(([kind, id]) => [kind, id, []]);
    say({ op: "load", subjects, kinds: need.kinds.map((kind) => [kind, []]) });
  }
  throw new Error("no page");
};
const begin = async () => {
  const pyodide = await loadPyodide({
    indexURL: core.slice(0, -"pyodide.mjs".length),
    stdLibURL: file("python_stdlib.zip"),
    lockFileContents: job.manifest.lock,
  });
  pyodide.FS.writeFile("/app.zip", readFileSync(file("app.zip")));
  step = pyodide.runPython("import sys\nsys.path.insert(0, '/app.zip')\nfrom webui.engine import step\nstep");
  say({ op: "start", manifest: job.manifest });
  if (page().status !== 200) throw new Error("the page was refused");
};
const stock = () => loadPyodide({ indexURL: job.stock });
await stock(); // the first of all pays for compiling the core
const times = { stock: await seconds(stock), start: await seconds(begin) };
const warm = [];
for (let turn = 0; turn < job.repeats; turn += 1) warm.push(await seconds(async () => page()));
times.warm = warm.sort((a, b) => a - b)[warm.length >> 1];
process.stdout.write(JSON.stringify(times));
