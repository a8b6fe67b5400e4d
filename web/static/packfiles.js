// @ts-check
// Lists the files of a pack: those with a name of their own first, then all
// others as they are called, folders folded away.

/** What is said of files; they come in this order. @type {[string, string][]} */
const known = [
  ["student.html", "Student page, to read or print"],
  ["key.html", "Key, to read or print"],
  ["handout.pdf", "Handout (PDF)"],
  ["key.pdf", "Key (PDF)"],
  ["slides.pptx", "Slides"],
  ["index.html", "List of all files, with what they are for"],
  ["script.md", "Script, as it is spoken"],
  ["captions.vtt", "Captions of the script"],
  ["cues.csv", "Cue sheet of the script"],
  ["qti-3.0.zip", "Questions for a learning platform (QTI 3.0)"],
  ["qti-2.2.zip", "Questions for a learning platform (QTI 2.2)"],
  ["manifest.json", "Where each spectrum comes from"],
];

/**
 * listFiles fills a list with links to the files.
 * @param {HTMLElement} list
 * @param {string} place address of the pack
 * @param {string[]} files
 */
export function listFiles(list, place, files) {
  if (files.length === 0) return;
  /** @param {string} file @param {string} text */
  const row = (file, text) => {
    const link = document.createElement("a");
    link.href = place + file.split("/").map(encodeURIComponent).join("/");
    link.textContent = text;
    if (file.endsWith(".html") || file.endsWith(".pdf")) link.target = "_blank";
    else link.download = "";
    const item = document.createElement("li");
    item.append(link);
    return item;
  };
  const rows = known.filter(([file]) => files.includes(file)).map(([file, text]) => row(file, text));
  /** @type {Map<string, HTMLElement>} */
  const folders = new Map();
  for (const file of files.filter((f) => !known.some(([k]) => k === f))) {
    const cut = file.lastIndexOf("/");
    if (cut < 0) {
      rows.push(row(file, file));
      continue;
    }
    const folder = file.slice(0, cut);
    let inside = folders.get(folder);
    if (!inside) {
      inside = document.createElement("ul");
      folders.set(folder, inside);
      const details = document.createElement("details");
      details.append(Object.assign(document.createElement("summary"), { textContent: folder[0].toUpperCase() + folder.slice(1) }), inside);
      const item = document.createElement("li");
      item.append(details);
      rows.push(item);
    }
    inside.append(row(file, file.slice(cut + 1)));
  }
  const open = list.querySelector("details")?.open;
  const focus = list.contains(document.activeElement) ? /** @type {HTMLAnchorElement} */ (document.activeElement).href : "";
  list.replaceChildren(...rows);
  const details = list.querySelector("details");
  if (details && open) details.open = true;
  for (const link of list.querySelectorAll("a")) if (focus && link.href === focus) link.focus();
}
