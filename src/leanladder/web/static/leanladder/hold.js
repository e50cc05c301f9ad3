// A button that must be held: pressed for as long as it says, by finger, mouse or key, it sends its form.
// Let go too soon, nothing is sent. A press without a beginning (a switch, a screen reader) sends the form as
// it is without script: a second page asks.
(() => {
  "use strict";
  const KEYS = ["Enter", " "];
  let held = null;

  const of = (event) => event.target instanceof Element && event.target.closest("button[data-hold]");
  const end = () => {
    if (!held) return;
    clearTimeout(held.timer);
    held.button.classList.remove("holding");
    held = null;
  };
  const begin = (button) => {
    if (held) return;
    button.classList.add("holding");
    const send = () => {
      const form = button.form;
      end();
      form.elements.held.value = "1";
      form.requestSubmit();
    };
    held = { button, timer: setTimeout(send, Number(button.dataset.hold)) };
  };
  const begun = new WeakSet();

  document.addEventListener("pointerdown", (event) => {
    const button = of(event);
    if (!button || event.button !== 0) return;
    begun.add(button);
    begin(button);
  });
  for (const kind of ["pointerup", "pointercancel"]) document.addEventListener(kind, end);
  document.addEventListener("pointermove", (event) => {
    // A finger that wanders off lets go; one that trembles does not.
    if (held && !held.byKey && document.elementFromPoint(event.clientX, event.clientY)?.closest("button[data-hold]") !== held.button) end();
  });
  document.addEventListener("keydown", (event) => {
    const button = of(event);
    if (!button || !KEYS.includes(event.key)) return;
    event.preventDefault();
    begun.add(button);
    if (event.repeat) return;
    begin(button);
    if (held) held.byKey = true;
  });
  document.addEventListener("keyup", (event) => { if (KEYS.includes(event.key)) end(); });
  document.addEventListener("click", (event) => {
    const button = of(event);
    if (!button || !begun.has(button)) return;
    begun.delete(button);
    event.preventDefault();
    event.stopPropagation();
  }, true);
  document.addEventListener("contextmenu", (event) => { if (of(event)) event.preventDefault(); });
  window.addEventListener("blur", end);
})();
