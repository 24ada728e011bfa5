// The page of an order works without this file. With it, the review follows while one types, what is typed is kept, and rows and
// dimensions point at each other.
"use strict";
(() => {
  const form = document.getElementById("sheet");
  if (!form) { return; }
  const address = form.dataset.address;
  const writes = form.hasAttribute("data-writes");
  // Every page of a new order keeps what is typed under a mark of its own.
  const own = form.elements.namedItem("draft")?.value;
  const kept = own ? `desk-typed ${address} ${own}` : `desk-typed ${address}`;
  const offline = document.getElementById("offline");
  const body = () => new URLSearchParams(new FormData(form));
  // What the title of a field repeats of it follows what is typed.
  form.addEventListener("input", (event) => { if (event.target.title) { event.target.title = event.target.value; } });
  let dirty = false;
  let textTyped = false;
  // The text follows the fields, so it is sent only once somebody has typed into it; an older text would speak against the fields.
  const asText = document.getElementById("text");
  asText?.removeAttribute("name");

  const reached = (is) => {
    offline.hidden = is;
    if (is) { localStorage.removeItem(kept); } else if (writes && dirty) { localStorage.setItem(kept, body().toString()); }
  };
  const post = async (end, signal) => {
    const answer = await fetch(address + end, { method: "POST", body: body(), signal, headers: { Accept: "text/html" } });
    if (!answer.ok && answer.status !== 409) { throw new Error(String(answer.status)); }
    return answer.text();
  };

  // A fault leaves no review. What stood here before it stays in sight, greyed, and says that it is older; its buttons would act on
  // a sheet that is no more.
  const keepAsBefore = (old, words) => {
    if (old.hasAttribute("data-absent") || old.hasAttribute("data-pending") || !old.firstElementChild) { return false; }
    if (!old.classList.contains("as-before")) {
      old.classList.add("as-before");
      old.prepend(Object.assign(document.createElement("p"), { className: "older" }));
      old.querySelectorAll("button").forEach((button) => { button.disabled = true; });
    }
    old.firstElementChild.textContent = words;
    return true;
  };

  // Folds stay open, and notes stand beside their fields again, when parts are put in the place of old ones.
  const take = (text) => {
    const open = [...document.querySelectorAll("details[id][open]")].map((one) => one.id);
    window.desk.swap(text, (part, old) => part.hasAttribute("data-absent") && keepAsBefore(old, part.dataset.absent));
    open.forEach((id) => { const one = document.getElementById(id); if (one) { one.open = true; } });
    mark();
  };
  const takeLive = (text) => {
    const answer = new DOMParser().parseFromString(text, "text/html");
    form.querySelectorAll("[data-about]").forEach((note) => note.remove());
    form.querySelectorAll("input.doubted").forEach((field) => field.classList.remove("doubted"));
    answer.querySelectorAll("[data-about]").forEach((note) => {
      const field = form.elements.namedItem(note.dataset.about);
      if (!field || !field.after) { return; }
      const entry = field.closest(".entry, .field") || field.parentElement;
      entry.append(document.adoptNode(note));
      if (note.querySelector(".doubtful[data-strong]")) { field.classList.add("doubted"); }
    });
    const now = answer.querySelector("[data-text]");
    const place = document.getElementById("text");
    if (now && place && !textTyped) { place.value = now.value; }
    take(text);
  };

  // The verdict first, then the drawing, then the questions, which take longest. A newer keystroke calls the older answer off.
  let running = null;
  const refresh = async (first) => {
    running?.abort();
    const own = running = new AbortController();
    try {
      if (!first) { takeLive(await post("/live", own.signal)); }
      await draw(own.signal);
      take(await post("/questions", own.signal));
      reached(true);
    } catch (error) {
      if (error.name === "AbortError") { return; }
      if (error instanceof TypeError) { reached(false); window.desk.say("The desk does not answer. What you typed is kept."); }
    }
  };
  const draw = async (signal) => { take(await post("/drawing?part=1", signal)); };

  let reviewing = 0;
  let keeping = 0;
  const changed = () => {
    dirty = true;
    clearTimeout(reviewing);
    reviewing = setTimeout(() => refresh(false), 180);
    if (!writes) { return; }
    clearTimeout(keeping);
    keeping = setTimeout(async () => {
      try { await post("/draft"); reached(true); } catch (error) { if (error instanceof TypeError) { reached(false); } }
    }, 1000);
  };
  form.addEventListener("input", (event) => {
    if (event.target.id === "view" || event.target.id === "units") { draw().catch(() => reached(false)); return; }
    // Words to the customer, and who confirmed a correction, are no part of the sheet.
    if (/^(say|who)\./.test(event.target.name)) { return; }
    if (event.target.id === "text") { textTyped = true; asText.name = "text"; }
    changed();
  });
  form.addEventListener("submit", () => { dirty = false; localStorage.removeItem(kept); });

  // What was typed while the desk did not answer is put back.
  const left = own ? Object.keys(localStorage).find((key) => key.startsWith(`desk-typed ${address}`)) : kept;
  const stored = writes && left && localStorage.getItem(left);
  if (stored) {
    if (left !== kept) { localStorage.removeItem(left); localStorage.setItem(kept, stored); }
    const typed = new URLSearchParams(stored);
    if (typed.get("seen") === form.elements.namedItem("seen").value) {
      typed.forEach((value, name) => {
        const field = form.elements.namedItem(name);
        if (field && "value" in field && !["seen", "base", "text", "draft", "carried"].includes(name)) { field.value = value; }
      });
      window.desk.say("What you typed while the desk did not answer is back in the form.");
      changed();
    } else {
      localStorage.removeItem(kept);
    }
  }

  // The fold-out of a reading that says nothing yet is made when somebody begins to type it.
  const template = document.getElementById("how-taken");
  form.addEventListener("focusin", (event) => {
    const field = event.target;
    const entry = field.closest?.(".entry");
    if (!template || !entry || entry.querySelector(".how") || !/^r\..*\.\d+$/.test(field.name)) { return; }
    const fold = template.content.cloneNode(true);
    const usual = field.closest("tr").dataset.usual;
    fold.querySelector("summary").setAttribute("aria-label", `How the ${field.getAttribute("aria-label")} was taken`);
    fold.querySelector("summary").textContent = `${usual}?`;
    fold.querySelectorAll("[data-property]").forEach((one) => {
      one.name = `${field.name}.${one.dataset.property}`;
      if (one.dataset.property === "instrument") { one.placeholder = usual; }
    });
    entry.append(fold);
  });
  document.addEventListener("click", (event) => {
    const enter = event.target.closest?.("[data-enter]");
    const field = enter && document.getElementById(enter.dataset.enter);
    if (field) {
      event.preventDefault();
      for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) { fold.open = true; }
      field.scrollIntoView({ block: "center" });
      field.focus();
    }
    const view = event.target.closest?.("[data-view]");
    if (view) {
      document.getElementById("view").value = view.dataset.view;
      draw().catch(() => reached(false));
    }
  });

  // Rows light up their dimension in the drawing, and dimensions their row.
  const lit = (on, key, side) => {
    document.querySelectorAll("#drawing [data-dimension]").forEach((group) => {
      const same = group.dataset.dimension === key && (!side || !group.dataset.side || group.dataset.side === side);
      group.classList.toggle("lit", on && same);
    });
    document.querySelectorAll("[data-shows]").forEach((row) => row.classList.toggle("lit", on && row.dataset.shows === key));
  };
  const pointed = (event) => {
    const from = event.target.closest?.("[data-shows], #drawing [data-dimension]");
    const key = from?.dataset.shows || from?.dataset.dimension;
    lit(Boolean(key), key, event.target.closest?.("[data-side]")?.dataset.side);
  };
  document.addEventListener("pointerover", pointed);
  document.addEventListener("focusin", pointed);
  const mark = () => {
    document.querySelectorAll("#drawing .draughted").forEach((drawing) => drawing.setAttribute("tabindex", "0"));
  };

  // Who else is here.
  const number = /^\/orders\/(\d+)$/.exec(address);
  const here = async () => {
    try {
      const seen = form.elements.namedItem("seen").value;
      const answer = await fetch(`${address}/presence`, { method: "POST", body: new URLSearchParams({ seen }) });
      if (answer.ok) { window.desk.swap(await answer.text()); }
      if (!offline.hidden) { reached(true); changed(); }
    } catch (error) { reached(false); }
  };
  if (number) { here(); setInterval(here, 10000); }
  window.addEventListener("beforeunload", (event) => { if (dirty && !offline.hidden) { event.preventDefault(); } });

  const wide = document.querySelector("[data-wide]");
  if (wide) {
    wide.hidden = false;
    wide.addEventListener("click", () => {
      const is = form.querySelector(".two").classList.toggle("wide");
      wide.setAttribute("aria-pressed", String(is));
    });
  }
  document.querySelectorAll(".without-script").forEach((one) => { one.hidden = true; });
  refresh(true);
})();
