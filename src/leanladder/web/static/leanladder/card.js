// The rider's card keeps its own time. Set into the page whole, so that nothing else has to be fetched.
//
// How old the card is. The phone's clock may show anything, so it decides nothing by what it shows. Counted is
// what has passed: since the page was asked for by performance.now, which no setting of the clock moves; some
// phones stop it in sleep, so each tick takes the step of Date.now where that is longer. A clock that jumps
// ahead ends a card early, one that jumps back changes nothing.
//
// A page from the browser's store starts this script anew, with the text of back then. So each answer is noted on
// the phone with how much time was left, and a text that has run here before, an older one, or one that did not
// come over the network goes on from that note less what has passed since. Where there is no note to go by, the
// page says that it is not confirmed until the laptop has answered. The page as sent says so too: a phone that
// does not run this script never shows a card that counts.
(() => {
  const page = document.documentElement, set = page.dataset, by = id => document.getElementById(id);
  const given = +set.given, made = +set.made, where = location.pathname, none = set.state === "none";
  const s = 1000, never = -1e12, calls = ["void", "changed", "ended"];
  let ran = 0, clock = 0, date = Date.now(), heard = 0, end = Math.min(set.left, set.most) * s;
  let at = set.at, over = "", why = "", word = "", since = "", asking = false, began = false;

  const kept = () => { try { return JSON.parse(localStorage.getItem(where)); } catch { return null; } };
  const keep = () => {
    try {
      localStorage.setItem(where, JSON.stringify(
        {given, made, date, left: end - ran, quiet: ran - heard, at, over, why, word, since, own: set.word}));
      return true;
    } catch { return false; }
  };

  const put = (id, text) => { if (by(id) && by(id).textContent !== String(text)) by(id).textContent = text; };
  const tell = (id, part) => put(id, by(part) ? by(part).innerText : "");

  function show() {
    const left = Math.max(end - ran, 0), before = page.dataset.state;
    const state = over || (none ? "none" : left <= 0 ? "ended" : ran - heard >= set.doubt * s ? "doubt" : "counts");
    if (state === "ended" && !over) { over = state; keep(); }
    put("left", Math.floor(left / 60 / s));
    page.classList.toggle("last", left < 60 * s);
    if (by("bar")) by("bar").setAttribute("width", 100 * left / (set.most * s));
    put("since", at);
    put("at", at);
    if (over === "void" || over === "changed") {
      put("why", why);
      put("void-since", since);
      put("new", word);
      page.classList.toggle("wordless", !word);
      page.style.setProperty("--new", Math.max(word.length, 5));
    }
    if (state === before) return;
    page.dataset.state = state;
    if (state === "void" || state === "changed" || state === "gone") {
      document.title = by("main-" + state).querySelector("h1").textContent;
      scrollTo(0, 0);
      tell("aloud", "main-" + state);
    } else if (began) tell("said", state === "counts" ? "confirmed" : "main-" + state);
  }

  function tick() {
    const now = performance.now(), today = Date.now();
    ran += Math.max(now - clock, today - date, 0);
    clock = now;
    date = today;
    show();
  }

  function hear(answer, sent) {
    if (answer.given !== given) return;
    page.classList.toggle("again", over === "ended" && answer.state === "counts" && +answer.left_s > 0);
    if (answer.state === "counts") {
      heard = Math.max(heard, sent);
      at = answer.at;
      end = Math.min(end, sent + (+answer.left_s || 0) * s);
    } else if (calls.includes(answer.state) && !(over && answer.state === "ended") && !(none && answer.state !== "changed")) {
      // A card that was stopped may be void for rain a little later, with another word: told and read anew.
      if (over && (over !== answer.state || word !== (answer.word || ""))) anew();
      over = answer.state;
      why = answer.why || "";
      word = answer.word || "";
      since = answer.since || "";
    }
    keep();
    show();
  }

  function anew() {
    set.state = "";
    page.classList.remove("sent", "unsent");
    if (by("form")) by("form").querySelector("button").disabled = false;
  }

  function gone(answer) {
    if (answer.state !== "gone") return;
    over = "gone";
    keep();
    show();
  }

  const send = (path, more) => {
    const stop = new AbortController(), late = setTimeout(() => stop.abort(), set.wait * s);
    return fetch(where + path, {cache: "no-store", credentials: "omit", redirect: "error", signal: stop.signal, ...more})
      .then(r => r.json().then(a => [r.ok, a])).finally(() => clearTimeout(late));
  };

  function ask() {
    if (asking || over === "gone") return;
    asking = true;
    tick();
    const sent = ran;
    send("/still?given=" + given)
      .then(([ok, answer]) => { tick(); ok ? hear(answer, sent) : gone(answer); })
      .catch(() => page.classList.remove("again")).then(() => { asking = false; });
  }

  function read() {
    const body = new URLSearchParams({given, word});
    send("/read", {method: "POST", body}).then(([ok]) => {
      if (!ok) throw 0;
      page.classList.remove("unsent");
      page.classList.add("sent");
      put("said", by("sent").textContent);
    }).catch(() => { page.classList.add("unsent"); setTimeout(read, set.every * s); });
  }

  const note = kept(), came = performance.getEntriesByType("navigation")[0];
  const old = !(came && came.transferSize > 0);
  if (note && note.given > given) {
    over = "changed";
    word = note.own;
  } else if (note && note.given === given && (old || made <= note.made)) {
    const passed = date - note.date;
    ({at, over, why, word, since} = note);
    end = Math.min(end, note.left - Math.max(passed, 0));
    heard = passed < 0 ? never : -note.quiet - passed;
  } else if (old) heard = never;
  if (!["none", "doubt"].includes(set.state)) {
    over = set.state;
    word = by("new").textContent;
    why = by("why").textContent;
    since = by("void-since").textContent;
  }
  if (!(note && note.given > given)) keep();

  if (by("form")) by("form").addEventListener("submit", e => { e.preventDefault(); by("form").querySelector("button").disabled = true; read(); });
  for (const id of ["open", "again"])
    if (by(id)) by(id).addEventListener("click", e => { e.preventDefault(); location.replace(where + "?" + Date.now()); });
  for (const name of ["pageshow", "focus", "online"]) addEventListener(name, () => { tick(); ask(); });
  document.addEventListener("visibilitychange", () => { tick(); ask(); });
  tick();
  began = true;
  setInterval(tick, s);
  setInterval(ask, set.every * s);
  ask();
})();
