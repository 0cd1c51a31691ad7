// node compress.mjs FILE...: writes FILE.br and FILE.gz beside each file; prints nothing.
import { readFile, writeFile } from "node:fs/promises";
import { promisify } from "node:util";
import { brotliCompress, constants, gzip } from "node:zlib";

const brotli = promisify(brotliCompress);
const deflate = promisify(gzip);

await Promise.all(
  process.argv.slice(2).map(async (path) => {
    const content = await readFile(path);
    const params = {
      [constants.BROTLI_PARAM_QUALITY]: 11,
      [constants.BROTLI_PARAM_LGWIN]: 24,
      [constants.BROTLI_PARAM_SIZE_HINT]: content.length,
    };
    await writeFile(`${path}.gz`, await deflate(content, { level: 9 }));
    await writeFile(`${path}.br`, await brotli(content, { params }));
  }),
);
