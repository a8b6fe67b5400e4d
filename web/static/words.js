// @ts-check
// What the editor completes: functions in expressions, blocks after a fence,
// keys in blocks and front matter, and the lesson's own compounds.

/**
 * @typedef {{name: string, signatures: string[], doc: string}} Fn
 * @typedef {{functions: Fn[], blocks: {Word: string, Keys: string[]}[], fields: string[]}} Vocabulary
 */

/** @type {Promise<Vocabulary>|undefined} */
let coming;
/** @returns {Promise<Vocabulary>} */
const vocabulary = () => (coming ??= fetch("/write/vocabulary.json").then((answer) => answer.json()));

/**
 * lessonWords offers what fits at a place of the text.
 * @param {import("./lib/codemirror-autocomplete.js").CompletionContext} context
 */
export async function lessonWords(context) {
  const line = context.state.doc.lineAt(context.pos);
  const before = line.text.slice(0, context.pos - line.from);
  const fence = /^```(\w*)$/.exec(before);
  const words = /** @type {Vocabulary} */ (await vocabulary());
  if (fence) {
    return { from: context.pos - fence[1].length, options: words.blocks.map((b) => ({ label: b.Word, type: "keyword", apply: `${b.Word}\n` })) };
  }
  const around = surroundings(context.state.doc, line.number);
  const word = /[\w.]*$/.exec(before)?.[0] ?? "";
  if (!context.explicit && word === "") return null;
  const inExpression = /\{\{[^}]*$|\{=[^}]*$/.test(before) || (around.block && /^\s*(that|answer|right|spectrum|ions|instrument|idea|teaches):/.test(before));
  const from = context.pos - word.length;
  if (inExpression) {
    return {
      from,
      options: [
        ...words.functions.map((f) => ({ label: f.name, type: "function", detail: f.signatures[0]?.slice(f.name.length), info: f.doc, apply: `${f.name}(` })),
        ...names(context.state.doc.toString()).map((n) => ({ label: n, type: "variable" })),
      ],
      validFor: /^[\w.]*$/,
    };
  }
  if (!/^\s*\w*$/.test(before)) return null;
  const keys = around.block ? words.blocks.find((b) => b.Word === around.block)?.Keys : around.front ? words.fields : undefined;
  return keys ? { from, options: keys.map((/** @type {string} */ k) => ({ label: k, type: "property", apply: `${k}: ` })), validFor: /^\w*$/ } : null;
}

/**
 * surroundings tells whether a line is in a block or in the front matter.
 * @param {{line: (n: number) => {text: string}}} doc
 * @param {number} number
 */
function surroundings(doc, number) {
  let block = "";
  let front = false;
  for (let n = 1; n < number; n++) {
    const text = doc.line(n).text;
    if (/^---\s*$/.test(text)) front = n === 1;
    const fence = /^```(\w*)/.exec(text);
    if (fence && !front) block = block ? "" : fence[1] || "code";
  }
  return { block, front };
}

/**
 * names are the keys of the front matter's compounds, instruments and ideas.
 * @param {string} text
 */
export function names(text) {
  const front = /^---\n([\s\S]*?)\n---/.exec(text)?.[1] ?? "";
  return [...front.matchAll(/^ {2}([A-Za-z_]\w*):/gm)].map((m) => m[1]);
}
