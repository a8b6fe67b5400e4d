// @ts-check
// Answers forms and links in place: the same address is asked for, and the
// part of its page with the form's id takes the place of ours. So every state
// has an address, and pages look the same however they were reached.

/** @type {AbortController|undefined} */
let under;

/**
 * show brings the part of another page into this one.
 * @param {string} address
 * @param {string} part id of the part
 * @param {"push"|"replace"|"stay"} history
 */
async function show(address, part, history) {
  under?.abort();
  const ours = (under = new AbortController());
  const old = document.getElementById(part);
  if (!old) return;
  old.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(address, { headers: { Accept: "text/html" }, signal: ours.signal });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = page.getElementById(part);
    if (!fresh) {
      location.assign(address);
      return;
    }
    const focus = focused(old);
    // What is filled in later keeps its old content until then.
    for (const later of old.querySelectorAll("[data-fill]")) {
      const same = fresh.querySelector("[data-fill]");
      if (same && same.children.length < 2) same.replaceChildren(...later.childNodes);
    }
    const open = [...old.querySelectorAll("details[open]")].map((d) => describe(d));
    old.replaceWith(document.adoptNode(fresh));
    for (const details of fresh.querySelectorAll("details")) if (open.includes(describe(details))) details.open = true;
    document.title = page.title;
    if (history === "push") window.history.pushState({ part }, "", address);
    if (history === "replace") window.history.replaceState({ part }, "", address);
    fresh.dispatchEvent(new CustomEvent("shown", { bubbles: true }));
    if (focus) /** @type {HTMLElement|null} */ (fresh.querySelector(focus))?.focus({ preventScroll: true });
    prepare(fresh);
  } catch (error) {
    if (!ours.signal.aborted) location.assign(address);
  }
}

/**
 * describe tells details apart, so that the same ones can be opened again.
 * @param {Element} details
 */
const describe = (details) => `${details.closest("[id]")?.id}/${details.className}`;

/**
 * focused finds words for the focused element that hold in the fresh part too.
 * @param {HTMLElement} part
 */
function focused(part) {
  const at = /** @type {HTMLElement|null} */ (document.activeElement);
  if (!at || !part.contains(at)) return "";
  if (at.id) return `#${CSS.escape(at.id)}`;
  if (at.dataset.mz) return `[data-mz="${at.dataset.mz}"]`;
  if (at.dataset.bond) return `[data-bond="${at.dataset.bond}"]`;
  if (at.matches(".drawing")) return `#${at.closest("figure")?.id} .drawing.wide`;
  return at.matches("a[data-live]") ? `#${part.id} h2` : "";
}

/**
 * addressOf is where a form leads; fields that are empty or at their usual
 * value stay out of it.
 * @param {HTMLFormElement} form
 * @param {boolean} keep whether what was chosen stays chosen
 */
function addressOf(form, keep) {
  const address = new URL(form.action);
  address.search = "";
  for (const [name, value] of new FormData(form)) {
    const field = form.elements.namedItem(name);
    const usual = field instanceof HTMLElement ? field.dataset.usual : undefined;
    if (typeof value === "string" && value.trim() !== "" && value !== usual) address.searchParams.append(name, value);
  }
  const now = new URL(location.href);
  for (const name of (keep ? form.dataset.keeps ?? "" : "").split(" ").filter(Boolean)) {
    const value = now.searchParams.get(name);
    if (value && !address.searchParams.has(name)) address.searchParams.set(name, value);
  }
  return address.href;
}

/**
 * prepare gives life to what a page or part brings.
 * @param {ParentNode} within
 */
export function prepare(within) {
  for (const holder of within.querySelectorAll("[data-fill]")) fill(/** @type {HTMLElement} */ (holder));
  for (const holder of within.querySelectorAll("[data-peaks]")) point(/** @type {HTMLElement} */ (holder), ".peak", "data-mz");
  for (const holder of within.querySelectorAll("[data-bonds]")) point(/** @type {HTMLElement} */ (holder), ".bond", "data-bond");
}

/** @param {HTMLElement} holder */
async function fill(holder) {
  const address = holder.dataset.fill ?? "";
  try {
    const answer = await fetch(address, { headers: { Accept: "text/plain" } });
    const text = await answer.text();
    if (!holder.isConnected) return;
    if (!answer.ok) {
      holder.textContent = text;
      return;
    }
    const page = new DOMParser().parseFromString(text, "text/html");
    const open = holder.querySelector("details")?.open;
    holder.replaceChildren(...page.body.childNodes);
    const details = holder.querySelector("details");
    if (details && open) details.open = true;
  } catch {
    // The link to the figure stays.
  }
}

/**
 * point lets a pointer and the arrow keys choose among the parts of a figure;
 * what is chosen is a link of the list beside it.
 * @param {HTMLElement} holder
 * @param {string} what selector of the parts
 * @param {string} key attribute of the links
 */
function point(holder, what, key) {
  const list = document.getElementById(holder.dataset.peaks ?? holder.dataset.bonds ?? "");
  if (!list) return;
  const links = /** @type {HTMLAnchorElement[]} */ ([...list.querySelectorAll(`a[${key}]`)]);
  holder.addEventListener("click", (event) => {
    if (!(event.target instanceof Element) || !event.target.closest("svg")) return;
    const drawing = event.target.closest("svg");
    /** @type {string|undefined} */
    let best;
    let distance = 40;
    for (const part of drawing?.querySelectorAll(what) ?? []) {
      const box = part.getBoundingClientRect();
      const dx = Math.max(box.left - event.clientX, event.clientX - box.right, 0);
      const dy = what === ".peak" ? 0 : Math.max(box.top - event.clientY, event.clientY - box.bottom, 0);
      const d = Math.hypot(dx, dy) + Math.hypot(event.clientX - (box.left + box.right) / 2, what === ".peak" ? 0 : event.clientY - (box.top + box.bottom) / 2) / 100;
      const number = /-(\d+)(?:-5)?(?:-no\d+)?$/.exec(part.id)?.[1];
      if (d < distance && links.some((l) => l.getAttribute(key) === number)) {
        best = number;
        distance = d;
      }
    }
    links.find((l) => l.getAttribute(key) === best)?.click();
  });
  holder.addEventListener("keydown", (event) => {
    if (!(event.target instanceof Element) || !event.target.matches(".drawing")) return;
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!step || links.length === 0) return;
    event.preventDefault();
    const at = links.findIndex((l) => l.hasAttribute("aria-current"));
    const next = at < 0 ? (step > 0 ? 0 : links.length - 1) : (at + step + links.length) % links.length;
    links[next].click();
  });
}

/** live gives life to the page. */
export function live() {
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  let waiting;
  /** @param {Event} event */
  const formOf = (event) => {
    const target = event.target;
    const form = target instanceof HTMLFormElement ? target : target instanceof HTMLInputElement || target instanceof HTMLSelectElement ? target.form : null;
    return form?.dataset.live ? form : null;
  };
  document.addEventListener("submit", (event) => {
    const form = formOf(event);
    if (!form) return;
    event.preventDefault();
    clearTimeout(waiting);
    show(addressOf(form, false), form.dataset.live ?? "", "push");
  });
  document.addEventListener("input", (event) => {
    const form = formOf(event);
    const field = /** @type {HTMLInputElement} */ (event.target);
    const shown = field.dataset?.shows && document.getElementById(field.dataset.shows);
    if (shown) shown.textContent = field.value;
    if (!form || "still" in field.dataset || (field.type !== "range" && field.type !== "checkbox" && field.type !== "radio" && field.tagName !== "SELECT")) return;
    clearTimeout(waiting);
    if (field.dataset.drops) {
      // A choice that other fields depend on: they start again with theirs.
      const address = new URL(addressOf(form, true));
      for (const name of field.dataset.drops.split(" ")) address.searchParams.delete(name);
      location.assign(address);
      return;
    }
    waiting = setTimeout(() => form.checkValidity() && show(addressOf(form, true), form.dataset.live ?? "", "replace"), 60);
  });
  document.addEventListener("click", (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0 || !(event.target instanceof Element)) return;
    const link = /** @type {HTMLAnchorElement|null} */ (event.target.closest("a[data-live]"));
    const part = link?.closest(".result")?.id;
    if (!link || !part) return;
    event.preventDefault();
    show(link.href, part, "push");
  });
  addEventListener("popstate", () => location.reload());
  prepare(document);
}
