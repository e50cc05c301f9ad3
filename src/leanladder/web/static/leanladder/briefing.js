// Arrow keys, and the page keys that a presenter's remote sends, turn the pages on the wall.
(() => {
  "use strict";
  const ways = { ArrowRight: "next", PageDown: "next", ArrowLeft: "prev", PageUp: "prev" };
  document.addEventListener("keydown", (event) => {
    const way = ways[event.key];
    if (!way || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return;
    const link = document.querySelector(`.room a[rel="${way}"]`);
    if (!link) return;
    event.preventDefault();
    location.assign(link.href);
  });
})();
