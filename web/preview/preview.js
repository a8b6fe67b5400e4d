// Reloads the page when the lesson was built again, and shows what is wrong
// with the lesson when it wasn't.

const style = document.createElement("link");
style.rel = "stylesheet";
style.href = new URL("preview.css", import.meta.url).href;
document.head.append(style);

const bar = document.createElement("nav");
bar.id = "preview";
bar.setAttribute("aria-label", "Preview");
for (const [href, text] of [["student.html", "Student page"], ["key.html", "Key"]]) {
  const link = document.createElement("a");
  link.href = href;
  link.textContent = text;
  if (location.pathname.endsWith(`/${href}`)) link.setAttribute("aria-current", "page");
  bar.append(link);
}
const status = document.createElement("span");
status.setAttribute("role", "status");
bar.append(status);
const skip = document.querySelector(".skip");
if (skip) skip.after(bar);
else document.body.prepend(bar);

const panel = document.createElement("section");
panel.id = "preview-findings";
panel.setAttribute("aria-label", "What is wrong with the lesson");
bar.after(panel);
// Beside an editor the findings stand in the editor's own list.
panel.hidden = window.self !== window.top;

// row is one line of text in an element.
function row(tag, text, name) {
  const element = document.createElement(tag);
  element.textContent = text;
  if (name) element.className = name;
  return element;
}

// finding shows one diagnostic.
function finding(d) {
  const item = document.createElement("li");
  item.className = d.severity;
  const place = [d.file, d.line, d.col].filter(Boolean).join(":");
  item.append(row("p", `${place}: ${d.severity}: ${d.message}`));
  if (d.claimed || d.computed) {
    item.append(row("p", `claimed: ${d.claimed ?? ""}`), row("p", `computed: ${d.computed ?? ""}`));
  }
  for (const note of d.notes ?? []) item.append(row("p", note, "origin-line"));
  if (d.suggestion) item.append(row("p", `hint: ${d.suggestion}`, "origin-line"));
  return item;
}

function show(state) {
  const errors = state.diagnostics.filter((d) => d.severity === "error").length;
  const warnings = state.diagnostics.length - errors;
  const counted = (n, noun) => `${n} ${noun}${n === 1 ? "" : "s"}`;
  status.textContent = state.ok
    ? `Built${warnings ? `, ${counted(warnings, "warning")}` : ""}`
    : `Not built: ${errors ? counted(errors, "error") : state.failure}.${document.getElementById("lesson") ? " Below is the last good version." : ""}`;
  bar.dataset.ok = state.ok;
  const list = document.createElement("ul");
  list.append(...state.diagnostics.map(finding));
  panel.replaceChildren(...(state.diagnostics.length ? [list] : []));
}

let seen;
let built = false;

async function update(version) {
  const answer = await fetch(new URL("state", import.meta.url));
  const state = await answer.json();
  if (seen !== undefined && version !== seen && state.ok) {
    location.reload();
    return;
  }
  // A page that stands in for a lesson that was never built has no lesson.
  if (state.ok && !built && !document.getElementById("lesson")) {
    location.reload();
    return;
  }
  seen = version;
  built = state.ok;
  document.getElementById("preview-first")?.remove();
  show(state);
}

const events = new EventSource(new URL("events", import.meta.url));
events.addEventListener("message", (event) => update(Number(event.data)));
events.addEventListener("error", () => {
  status.textContent = "The preview has ended; start it again to go on.";
  bar.dataset.ok = false;
});
