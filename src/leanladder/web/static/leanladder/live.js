// Stopwatches run by elapsed time from what the laptop said, never by this device's clock; each answer sets
// them anew. A page that has had no answer for a while says so.
(() => {
  "use strict";
  const begun = new Map();
  const said = (seconds) => Math.floor(seconds / 60) + ":" + String(Math.floor(seconds % 60)).padStart(2, "0");

  const take = (root) => {
    for (const each of root.querySelectorAll("[data-elapsed]")) begun.set(each, performance.now() - 1000 * Number(each.dataset.elapsed));
    for (const each of root.querySelectorAll("[data-print]")) { each.hidden = false; each.onclick = () => window.print(); }
  };
  const tick = () => {
    for (const [each, at] of begun) {
      if (!each.isConnected) { begun.delete(each); continue; }
      const text = said((performance.now() - at) / 1000);
      if (each.textContent !== text) each.textContent = text;
    }
  };
  // A part that is drawn anew takes the focus with it: it goes to what stands there for the same thing.
  let held = "";
  const named = (each) => [each.tagName, each.getAttribute("href"), each.getAttribute("name"), each.getAttribute("value"),
    each.form && each.form.getAttribute("action"), each.getAttribute("aria-label"), each.textContent.trim()].join("|");
  document.addEventListener("htmx:beforeSwap", () => {
    const at = document.activeElement;
    held = at && at.matches("main a, main button") ? named(at) : "";
  });
  document.addEventListener("htmx:afterSwap", () => {
    if (!held || document.activeElement !== document.body) return;
    const again = Array.from(document.querySelectorAll("main a, main button")).find((each) => named(each) === held);
    if (again) again.focus({ preventScroll: true });
  });

  document.addEventListener("htmx:load", (event) => take(event.detail.elt));
  take(document);
  setInterval(tick, 250);
})();
