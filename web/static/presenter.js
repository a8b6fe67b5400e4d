// @ts-check
// The presenter's keys, wherever the focus is but in a field that needs them.
// A presenter's remote control sends Page Up and Page Down; they go from ion to
// ion on the projector, and scroll the page elsewhere.

/**
 * presenterKeys listens to the keys.
 * @param {{play: () => void, next: () => void, before: () => void, restart: () => void, projector: () => void}} does
 */
export function presenterKeys(does) {
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || !(event.target instanceof Element)) return;
    if (event.target.matches("input:not([type=range]), textarea, select")) return;
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    /** @type {Record<string, () => void>} */
    const keys = { p: does.projector, r: does.restart };
    if (!event.target.closest("input, textarea, select, summary, a, button")) keys[" "] = does.play;
    if (!event.target.matches("input")) {
      keys.ArrowRight = does.next;
      keys.ArrowLeft = does.before;
    }
    if (document.body.classList.contains("projected")) {
      keys.PageDown = does.next;
      keys.PageUp = does.before;
    }
    if (/^[1-9]$/.test(key)) {
      keys[key] = () => /** @type {HTMLElement|null} */ (document.querySelector(`[data-if][aria-keyshortcuts="${key}"]`))?.click();
    }
    if (!keys[key]) return;
    event.preventDefault();
    keys[key]();
  });
}
