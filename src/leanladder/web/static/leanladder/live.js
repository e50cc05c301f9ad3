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
  document.addEventListener("htmx:load", (event) => take(event.detail.elt));
  take(document);
  setInterval(tick, 250);
})();
