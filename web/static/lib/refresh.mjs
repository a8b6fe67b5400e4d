// Copies the libraries that the pages use from npm into this folder, at the
// versions that package-lock.json pins. Run it after changing a version:
//
//	npm install --package-lock-only && node refresh.mjs
//
// The libraries are ES modules that name each other ("@codemirror/state"); a
// browser without an import map wants addresses, so those names are replaced
// by relative ones. Nothing else is changed. VERSIONS.json lists what was
// copied, with the licence and the hash of each file.

import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const work = mkdtempSync(join(tmpdir(), "ionwright-libraries-"));
try {
  for (const name of ["package.json", "package-lock.json"]) cpSync(join(here, name), join(work, name));
  execFileSync("npm", ["ci", "--silent", "--no-audit", "--no-fund", "--ignore-scripts"], { cwd: work, stdio: "inherit" });
  const lock = JSON.parse(readFileSync(join(work, "package-lock.json"), "utf8"));

  /** fileOf is the name that a package's module has in this folder. */
  const fileOf = (/** @type {string} */ name) => name.replace("@", "").replace("/", "-") + ".js";

  for (const old of readdirSync(here)) if (/\.(js|LICENSE)$/.test(old)) rmSync(join(here, old));
  const list = [];
  const wanted = Object.keys(lock.packages[""].dependencies);
  const done = new Set();
  while (wanted.length > 0) {
    const name = /** @type {string} */ (wanted.shift());
    if (done.has(name)) continue;
    done.add(name);
    const folder = join(work, "node_modules", name);
    const about = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
    let entry = about.exports?.["."] ?? about.exports ?? about.module ?? about.main ?? "index.js";
    while (typeof entry !== "string") entry = entry.import ?? entry.default;
    const text = readFileSync(join(folder, entry), "utf8").replace(
      /((?:^|[\s;}])(?:import|export)\b[^'"();]*?\bfrom\s*|(?:^|[\s;}])import\s*)(['"])([^'"./][^'"]*)\2/g,
      (_, before, quote, other) => {
        wanted.push(other);
        return `${before}${quote}./${fileOf(other)}${quote}`;
      },
    );
    writeFileSync(join(here, fileOf(name)), text);
    const licence = readdirSync(folder).find((f) => /^licen[cs]e/i.test(f));
    if (!licence) throw new Error(`${name} has no licence file`);
    const licenceFile = fileOf(name).replace(/js$/, "LICENSE");
    cpSync(join(folder, licence), join(here, licenceFile));
    list.push({
      name,
      version: about.version,
      licence: about.license,
      file: fileOf(name),
      licenceFile,
      sha256: createHash("sha256").update(text).digest("hex"),
    });
  }
  list.sort((a, b) => (a.name < b.name ? -1 : 1));
  mkdirSync(here, { recursive: true });
  writeFileSync(join(here, "VERSIONS.json"), JSON.stringify(list, null, 2) + "\n");
  console.log(list.map((l) => `${l.name} ${l.version} (${l.licence})`).join("\n"));
} finally {
  rmSync(work, { recursive: true });
}
