// Trying: while a control moves, which way limits go; at rest, the ladder as it would be.
// One question at a time from a page, and the newest counts.
(() => {
  "use strict";
  const REST_MS = 400, AGAIN_MS = 500;
  const client = Math.random().toString(36).slice(2) + Date.now().toString(36);
  let number = 0, flying = null, wanted = null, resting = null, again = null, kept = null;

  const form = () => document.querySelector("form[data-try]");
  const place = () => document.getElementById("ladder-table");
  const say = (lines) => { const told = document.getElementById("try-told"); if (told) told.textContent = lines.join(" "); };
  const fields = (of) => Array.from(of.querySelectorAll("[data-own]"));
  const moved = (of) => fields(of).filter((each) => each.value !== each.dataset.own);

  const mark = (of) => {
    for (const each of fields(of)) {
      const other = each.value !== each.dataset.own, row = each.closest(".try-row"), own = row.querySelector(".own");
      row.classList.toggle("moved", other);
      if (own) own.hidden = !other;
    }
  };

  const ask = async (kind) => {
    const of = form();
    if (!of) return;
    // What was to be asked once more is older than this.
    clearTimeout(again);
    if (flying) {
      wanted = kind;
      if (flying.kind === "final" && kind === "draft") flying.stop.abort();
      return;
    }
    const stop = new AbortController(), body = new FormData(of);
    body.set("client", client);
    body.set("number", String(++number));
    flying = { kind, stop };
    let told = null;
    try {
      const answer = await fetch(of.dataset[kind === "ready" ? "draft" : kind], { method: "POST", body, signal: stop.signal });
      told = await answer.json();
    } catch (error) {
      told = error.name === "AbortError" ? { state: "given_up" } : { state: "away" };
    }
    flying = null;
    if (of !== form()) { wanted = null; return; }
    if (wanted) { const next = wanted; wanted = null; if (told.state === "done" && kind === "draft") show(kind, told); ask(next); return; }
    if (kind === "ready") return;
    show(kind, told);
    if (told.state === "waiting") { say([of.dataset.busy]); again = setTimeout(() => ask(kind), AGAIN_MS); }
  };

  const show = (kind, told) => {
    const table = place();
    if (!table) return;
    if (told.state === "done" && kind === "draft") {
      table.classList.add("moving");
      for (const way of table.querySelectorAll("[data-cell]")) {
        const cell = told.cells[way.dataset.cell];
        way.querySelector(".way").textContent = cell ? cell.join(" ") : "";
      }
      say(told.said);
    } else if (told.state === "done") {
      table.innerHTML = told.table;
      table.classList.remove("moving");
      if (window.htmx) window.htmx.process(table);
      say(told.said);
    } else if (told.state === "away") {
      say([form().dataset.gone]);
    } else if (told.said) {
      table.classList.add("moving");
      for (const way of table.querySelectorAll(".way")) way.textContent = "";
      say(told.said);
    }
  };

  const back = () => {
    clearTimeout(resting);
    clearTimeout(again);
    wanted = null;
    if (flying) flying.stop.abort();
    if (kept !== null) { place().innerHTML = kept; if (window.htmx) window.htmx.process(place()); }
    place().classList.remove("moving");
    say([]);
  };

  const change = () => {
    const of = form();
    if (kept === null && place()) kept = place().innerHTML;
    mark(of);
    clearTimeout(resting);
    if (!moved(of).length && !place().querySelector(".tried-as-loaded")) { back(); return; }
    // Grey at once: these limits are no longer those of what the controls say.
    place().classList.add("moving");
    ask("draft");
    resting = setTimeout(() => ask("final"), REST_MS);
  };

  const step = (button) => {
    const field = document.getElementById(button.dataset.for), by = Number(button.dataset.step);
    if (field.tagName === "SELECT") {
      const at = field.selectedIndex + by;
      if (at < 0 || at >= field.options.length) return;
      field.selectedIndex = at;
    } else field.value = String((Number(field.value) || 0) + by);
    change();
  };

  const begin = () => {
    const of = form();
    if (!of || of.dataset.begun) return;
    of.dataset.begun = "1";
    kept = null;
    const here = place() && place().querySelector("[aria-current]");
    if (here) place().scrollLeft += here.getBoundingClientRect().left - place().getBoundingClientRect().left - place().clientWidth / 2;
    for (const button of of.querySelectorAll("[data-step]")) { button.hidden = false; button.addEventListener("click", () => step(button)); }
    for (const button of of.querySelectorAll("[data-noscript]")) button.hidden = true;
    of.addEventListener("input", (event) => { if (event.target.closest("[data-own]")) change(); });
    // Opening a ladder for tries takes seconds: it begins once a hand or the focus comes near, before anything moves.
    const ready = () => { if (!flying && !moved(of).length) ask("ready"); };
    for (const near of ["pointerenter", "focusin"]) of.addEventListener(near, ready, { once: true });
    of.addEventListener("submit", (event) => { event.preventDefault(); event.stopPropagation(); ask("final"); }, true);
    mark(of);
  };
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin); else begin();
  document.addEventListener("htmx:load", begin);
})();
