// @ts-check
// What all pages share: the theme, forms and links that answer without
// loading the page again, figures that can be pointed at, files that can be
// dropped. Without this module the pages work as plain pages.

import { live } from "./live.js";

const root = document.documentElement;
const theme = /** @type {HTMLButtonElement|null} */ (document.getElementById("theme"));
if (theme) {
  const device = matchMedia("(prefers-color-scheme: dark)");
  const dark = () => (root.dataset.theme ? root.dataset.theme === "dark" : device.matches);
  const label = () => (theme.textContent = dark() ? "Light" : "Dark");
  theme.addEventListener("click", () => {
    root.dataset.theme = dark() ? "light" : "dark";
    document.cookie = `ionwright-theme=${root.dataset.theme}; path=/; max-age=31536000; samesite=strict`;
    label();
  });
  device.addEventListener("change", label);
  label();
  theme.hidden = false;
}

live();

// The structure editor is large: it comes when somebody wants to draw.
const draw = /** @type {HTMLButtonElement|null} */ (document.getElementById("draw"));
if (draw) {
  draw.hidden = false;
  draw.addEventListener("click", async () => {
    draw.disabled = true;
    const { sketch } = await import("./sketch.js");
    await sketch(/** @type {HTMLElement} */ (document.getElementById("sketch")), /** @type {HTMLInputElement} */ (document.getElementById("q") ?? document.getElementById("compound-name")));
    draw.disabled = false;
  });
}

// A file dropped anywhere goes to the form that takes files.
const drop = /** @type {HTMLFormElement|null} */ (document.querySelector("form[data-drop]"));
if (drop) {
  const input = /** @type {HTMLInputElement} */ (drop.elements.namedItem("file"));
  const send = () => {
    for (const name of (drop.dataset.with ?? "").split(" ").filter(Boolean)) {
      const own = /** @type {HTMLInputElement|null} */ (drop.querySelector(`[name="${name}"]`));
      const asked = /** @type {HTMLInputElement|null} */ (document.getElementById(name));
      if (own && asked) own.value = asked.value;
    }
    drop.submit();
  };
  drop.addEventListener("submit", (event) => {
    event.preventDefault();
    send();
  });
  addEventListener("dragover", (event) => {
    if (!event.dataTransfer?.types.includes("Files")) return;
    event.preventDefault();
    document.body.classList.add("dropping");
  });
  addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) document.body.classList.remove("dropping");
  });
  addEventListener("drop", (event) => {
    document.body.classList.remove("dropping");
    if (!event.dataTransfer?.files.length) return;
    event.preventDefault();
    input.files = event.dataTransfer.files;
    send();
  });
}
