// Nothing typed is lost: a form marked data-keep is kept in this browser until the laptop has taken it.
// Forms are sent by htmx (hx-boost), so that a network that drops leaves the page, and the form on it, alone.
(() => {
  "use strict";
  const show = (gone) => { const away = document.getElementById("away"); if (away) away.hidden = !gone; };
  const keyOf = (form) => "keep:" + location.pathname + ":" + form.dataset.keep;
  const fields = (form) => Array.from(form.elements).filter((each) =>
    each.name && !["password", "file", "hidden", "submit"].includes(each.type));
  const marked = (each) => each.type === "checkbox" || each.type === "radio";

  const save = (form) => {
    const values = fields(form).map((each) => [each.name, each.value, marked(each) ? each.checked : null]);
    try { localStorage.setItem(keyOf(form), JSON.stringify(values)); } catch { /* the page itself still holds it */ }
  };
  const forget = (form) => { try { localStorage.removeItem(keyOf(form)); } catch { /* nothing was kept */ } };
  const restore = (form) => {
    let values = null;
    try { values = JSON.parse(localStorage.getItem(keyOf(form)) || "null"); } catch { /* not ours */ }
    if (!Array.isArray(values)) return;
    const left = fields(form);
    let other = false;
    for (const [name, value, checked] of values) {
      const at = left.findIndex((each) => each.name === name && (checked === null || each.value === value));
      if (at < 0) continue;
      const [field] = left.splice(at, 1);
      other ||= checked === null ? field.value !== value : field.checked !== checked;
      if (checked === null) field.value = value; else field.checked = checked;
    }
    // The laptop had taken it, and only its answer was lost: the page shows it already.
    if (!other) { forget(form); return; }
    const note = form.querySelector("[data-kept]");
    if (note) note.hidden = false;
  };
  const kept = (event) => event.target instanceof Element && event.target.closest("form[data-keep]");

  for (const kind of ["input", "change"]) {
    document.addEventListener(kind, (event) => { const form = kept(event); if (form) save(form); });
  }
  document.addEventListener("htmx:load", (event) => {
    for (const form of event.detail.elt.querySelectorAll("form[data-keep]")) restore(form);
  });
  document.addEventListener("htmx:beforeSwap", (event) => {
    const form = event.detail.requestConfig && event.detail.requestConfig.elt;
    const sent = form instanceof HTMLFormElement && form.dataset.keep && event.detail.requestConfig.verb === "post";
    if (sent && event.detail.xhr.status < 400) forget(form);
  });
  // A page that comes by htmx brings its own styles and scripts: the frame's head takes what it has not yet.
  document.addEventListener("htmx:beforeSwap", (event) => {
    const text = event.detail.xhr.responseText || "";
    if (!text.trimStart().toLowerCase().startsWith("<!doctype")) return;
    const there = (each) => each.getAttribute("href") || each.getAttribute("src");
    const wanted = "link[rel=stylesheet], script[src]";
    const held = new Set(Array.from(document.head.querySelectorAll(wanted), there));
    for (const each of new DOMParser().parseFromString(text, "text/html").head.querySelectorAll(wanted)) {
      if (held.has(there(each))) continue;
      const made = document.createElement(each.localName);
      for (const part of each.attributes) made.setAttribute(part.name, part.value);
      document.head.append(made);
    }
  });
  document.addEventListener("htmx:sendError", () => show(true));
  document.addEventListener("htmx:timeout", () => show(true));
  document.addEventListener("htmx:afterOnLoad", () => show(false));
})();
