// @ts-check
// The editor component (CodeMirror) set up for lessons: colours for their
// parts, completion of functions, blocks and compounds, findings in the text.

import { EditorState, Compartment } from "./lib/codemirror-state.js";
import { EditorView, keymap, lineNumbers, highlightActiveLine, drawSelection } from "./lib/codemirror-view.js";
import { defaultKeymap, history, historyKeymap } from "./lib/codemirror-commands.js";
import { searchKeymap, highlightSelectionMatches } from "./lib/codemirror-search.js";
import { autocompletion, completionKeymap, closeBrackets, closeBracketsKeymap } from "./lib/codemirror-autocomplete.js";
import { StreamLanguage, HighlightStyle, syntaxHighlighting, bracketMatching } from "./lib/codemirror-language.js";
import { setDiagnostics, lintKeymap } from "./lib/codemirror-lint.js";
import { tags } from "./lib/lezer-highlight.js";
import { lessonWords } from "./words.js";

/**
 * @typedef {import("./write.js").Finding} Finding
 * @typedef {{text: () => string, head: () => number, replace: (text: string) => void, insert: (text: string, at?: number) => void, mark: (findings: Finding[]) => void, go: (line: number, col: number) => void, focus: () => void}} Editor
 */

// A lesson's source, line by line: front matter, prose with values, blocks.
const lessonLanguage = StreamLanguage.define({
  name: "lesson",
  startState: () => ({ part: "start", inside: "" }),
  token(/** @type {any} */ stream, /** @type {{part: string, inside: string}} */ state) {
    if (stream.sol()) {
      if (state.part === "start") {
        state.part = stream.match(/^---\s*$/, false) ? "front" : "prose";
        if (state.part === "front") {
          stream.skipToEnd();
          return "meta";
        }
      } else if (state.part === "front" && stream.match(/^---\s*$/)) {
        state.part = "prose";
        return "meta";
      }
      if (state.part !== "front" && stream.match(/^```/)) {
        state.part = state.part === "block" ? "prose" : "block";
        stream.skipToEnd();
        return "keyword";
      }
      if (state.part === "prose" && stream.match(/^#{1,6} /)) {
        stream.skipToEnd();
        return "heading";
      }
    }
    if (state.part === "front" || state.part === "block") {
      if (stream.match(/^\s*-?\s*[\w-]+(?=:)/)) return "propertyName";
    }
    if (stream.match(/^\{\{.*?\}\}/)) return "string";
    if (stream.match(/^\[[^\]]*\]\{=.*?\}/)) return "number";
    if (stream.match(/^\*\*.+?\*\*/)) return "strong";
    stream.next();
    return null;
  },
});

const colors = HighlightStyle.define([
  { tag: tags.meta, color: "var(--muted)" },
  { tag: tags.keyword, color: "var(--second)" },
  { tag: tags.heading, fontWeight: "bold" },
  { tag: tags.propertyName, color: "var(--third)" },
  { tag: tags.string, color: "var(--accent)" },
  { tag: tags.number, color: "var(--accent)", fontWeight: "bold" },
  { tag: tags.strong, fontWeight: "bold" },
]);

const look = EditorView.theme({
  "&": { color: "var(--ink)", backgroundColor: "var(--paper)", border: "1px solid var(--muted)", fontSize: "0.95rem" },
  "&.cm-focused": { outline: "3px solid var(--accent)", outlineOffset: "1px" },
  ".cm-scroller": { fontFamily: "ui-monospace, 'DejaVu Sans Mono', monospace", lineHeight: "1.5" },
  ".cm-content": { caretColor: "var(--ink)" },
  ".cm-cursor": { borderLeftColor: "var(--ink)" },
  ".cm-gutters": { backgroundColor: "var(--panel)", color: "var(--muted)", border: "none" },
  ".cm-activeLine": { backgroundColor: "color-mix(in srgb, var(--panel) 60%, transparent)" },
  "&.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground, .cm-selectionBackground": { backgroundColor: "color-mix(in srgb, var(--accent) 25%, transparent)" },
  ".cm-tooltip": { backgroundColor: "var(--paper)", color: "var(--ink)", border: "1px solid var(--muted)" },
  ".cm-tooltip-autocomplete ul li[aria-selected]": { backgroundColor: "var(--accent)", color: "var(--paper)" },
  ".cm-completionInfo": { maxWidth: "24rem" },
  ".cm-panels": { backgroundColor: "var(--panel)", color: "var(--ink)" },
});

/**
 * makeEditor puts an editor into a holder.
 * @param {HTMLElement} holder
 * @param {string} text
 * @param {{readOnly: boolean, nonce: string, changed: () => void, save: () => void}} options
 * @returns {Promise<Editor>}
 */
export async function makeEditor(holder, text, options) {
  let quiet = false; // while the text is replaced by ours
  const lines = new Compartment();
  const view = new EditorView({
    parent: holder,
    state: EditorState.create({
      doc: text,
      extensions: [
        EditorView.cspNonce.of(options.nonce),
        lines.of(lineNumbers()),
        history(),
        drawSelection(),
        highlightActiveLine(),
        highlightSelectionMatches(),
        bracketMatching(),
        closeBrackets(),
        autocompletion({ override: [lessonWords] }),
        lessonLanguage,
        syntaxHighlighting(colors),
        look,
        EditorView.lineWrapping,
        EditorView.contentAttributes.of({ tabindex: "0", "aria-label": "Source of the lesson", spellcheck: "true" }),
        EditorState.readOnly.of(options.readOnly),
        keymap.of([
          { key: "Mod-s", run: () => (options.save(), true) },
          ...closeBracketsKeymap,
          ...defaultKeymap,
          ...searchKeymap,
          ...historyKeymap,
          ...completionKeymap,
          ...lintKeymap,
        ]),
        EditorView.updateListener.of((/** @type {import("./lib/codemirror-view.js").ViewUpdate} */ update) => {
          if (update.docChanged && !quiet) options.changed();
        }),
      ],
    }),
  });
  /** @param {number} line @param {number} col */
  const position = (line, col) => {
    const at = view.state.doc.line(Math.min(Math.max(1, line), view.state.doc.lines));
    return at.from + [...at.text].slice(0, Math.max(0, col - 1)).join("").length;
  };
  return {
    text: () => view.state.doc.toString(),
    head: () => view.state.selection.main.head,
    replace(text) {
      quiet = true;
      // Only what differs changes, so that the cursor stays where it is.
      const old = view.state.doc.toString();
      let from = 0;
      while (from < old.length && from < text.length && old[from] === text[from]) from++;
      let end = 0;
      while (end < old.length - from && end < text.length - from && old[old.length - 1 - end] === text[text.length - 1 - end]) end++;
      view.dispatch({ changes: { from, to: old.length - end, insert: text.slice(from, text.length - end) } });
      quiet = false;
    },
    insert(text, at) {
      const where = at ?? view.state.selection.main.head;
      view.dispatch({ changes: { from: where, insert: text }, selection: { anchor: where + text.length }, scrollIntoView: true });
      view.focus();
    },
    mark(findings) {
      const marks = findings
        .filter((d) => d.line && d.line <= view.state.doc.lines)
        .map((d) => {
          const line = d.line ?? 1;
          const from = position(line, d.col ?? 1);
          const to = d.endCol ? position(line, d.endCol) : view.state.doc.line(line).to;
          const lines = [d.message, d.claimed || d.computed ? `claimed ${d.claimed}, computed ${d.computed}` : "", d.suggestion ?? ""];
          return { from, to: Math.max(from, to), severity: /** @type {"error"|"warning"} */ (d.severity), message: lines.filter(Boolean).join("\n") };
        });
      view.dispatch(setDiagnostics(view.state, marks));
    },
    go(line, col) {
      const at = position(line, col);
      view.dispatch({ selection: { anchor: at }, effects: EditorView.scrollIntoView(at, { y: "center" }) });
      view.focus();
    },
    focus: () => view.focus(),
  };
}
