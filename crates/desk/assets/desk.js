// The desk works without this file. With it, searches and reviews answer while one types, nothing typed is lost, and the keyboard
// reaches everything. Every part reads its orders from data attributes in the page.
"use strict";
(() => {
  const say = (words) => {
    const place = document.getElementById("announce");
    if (place) { place.textContent = words; }
  };

  // Puts each element of an answer in the place of the one with the same id, unless `stays(new, old)` keeps the old one.
  const swap = (text, stays) => {
    const answer = new DOMParser().parseFromString(text, "text/html");
    const wanted = answer.querySelectorAll("[id][data-part]");
    wanted.forEach((part) => {
      const old = document.getElementById(part.id);
      if (old && !stays?.(part, old)) { old.replaceWith(document.adoptNode(part)); }
    });
    document.dispatchEvent(new CustomEvent("desk:swapped"));
  };

  // A form with data-swap="ID" is answered while one types: its page is fetched and that element taken over.
  const searches = () => document.querySelectorAll("form[data-swap]").forEach((form) => {
    let running = null;
    const search = async () => {
      running?.abort();
      running = new AbortController();
      const address = `${form.getAttribute("action")}?${new URLSearchParams(new FormData(form))}`;
      try {
        const answer = await fetch(address, { signal: running.signal });
        const text = await answer.text();
        const page = new DOMParser().parseFromString(text, "text/html");
        const part = page.getElementById(form.dataset.swap);
        if (part) {
          document.getElementById(form.dataset.swap).replaceWith(document.adoptNode(part));
          swap(text);
          history.replaceState(null, "", address);
        }
      } catch (error) {
        if (error.name !== "AbortError") { say("The desk does not answer. What you typed is still here."); }
      }
    };
    let timer = 0;
    form.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(search, 90); });
  });

  // A form with data-answer="ADDRESS" is judged while one types: the parts of the answer take the places of their namesakes.
  const answers = () => document.querySelectorAll("form[data-answer]").forEach((form) => {
    let timer = 0;
    const ask = async () => {
      try {
        const answer = await fetch(`${form.dataset.answer}?${new URLSearchParams(new FormData(form))}`);
        if (answer.ok) { swap(await answer.text()); }
      } catch { say("The desk does not answer. What you typed is still here."); }
    };
    form.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(ask, 200); });
  });

  // The window that tells the single keys. Only this file acts on them, so it is made here, out of the ways that the page has.
  const element = (name, words = "", ...inside) => {
    const made = Object.assign(document.createElement(name), { textContent: words });
    made.append(...inside);
    return made;
  };
  const keysWindow = () => {
    const row = (keys, words) =>
      element("div", "", element("dt", "", ...keys.flatMap((key) => [element("kbd", key), " "])), element("dd", words));
    const ways = [...document.querySelectorAll("[data-go]")].map((way) => row(["g", way.dataset.go], `to ${way.textContent.trim()}`));
    const list = element("dl", "",
      row(["/"], "to the search"), row(["j", "k"], "down and up through rows"), row(["Enter"], "opens the row"), ...ways,
      row(["n"], "a new order, from the list"), row(["Esc"], "out of a field, so that keys act again; closes this"),
      row(["?"], "shows this"));
    const head = Object.assign(element("h2", "Single keys"), { id: "single-keys-head" });
    const settings = Object.assign(element("a", "Settings, Single keys"), { href: "/settings#keys" });
    const off = element("p", "They never act while you type. To switch them off for this browser: ", settings, ".");
    const close = Object.assign(element("form", "", Object.assign(element("button", "Close"), { autofocus: true })), { method: "dialog" });
    const made = element("dialog", "", head, list, off, close);
    made.setAttribute("aria-labelledby", head.id);
    made.addEventListener("close", () => made.remove());
    document.body.append(made);
    made.showModal();
  };
  const tellsKeys = () => document.querySelectorAll("[data-tells-keys]").forEach((button) => {
    button.hidden = false;
    button.addEventListener("click", keysWindow);
  });

  // Keys: "/" to the search, "j" and "k" through rows, Enter opens, "g" and a letter goes somewhere, "?" tells them. Single keys
  // can be switched off, and never act while one types.
  const typing = (target) => target.matches?.("input, textarea, select, [contenteditable]");
  let going = false;
  const rows = () => [...document.querySelectorAll("[data-rows] tbody tr")].filter((row) => row.querySelector("th a, td a"));
  const step = (by) => {
    const all = rows();
    const at = all.findIndex((row) => row.contains(document.activeElement));
    const next = all[Math.min(Math.max(at + by, 0), all.length - 1)];
    next?.querySelector("th a, td a")?.focus();
  };
  document.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) { return; }
    if (document.querySelector("dialog[open]")) { return; }
    if (event.key === "Escape" && typing(event.target)) { event.target.blur(); return; }
    if (typing(event.target) || localStorage.getItem("desk-keys") === "off") { return; }
    if (going) {
      going = false;
      document.querySelector(`[data-go="${CSS.escape(event.key)}"]`)?.click();
      return;
    }
    if (event.key === "g") { going = true; setTimeout(() => { going = false; }, 1200); return; }
    if (event.key === "j") { step(1); return; }
    if (event.key === "k") { step(-1); return; }
    const target = document.querySelector(`[data-key="${CSS.escape(event.key)}"]`);
    if (target) {
      event.preventDefault();
      if (target.matches("input, textarea, select")) { target.focus(); target.select?.(); } else { target.click(); }
    }
  });

  // A choice with data-remember="KEY" is kept by this browser, and holds at once.
  const remembered = () => document.querySelectorAll("select[data-remember]").forEach((choice) => {
    const key = choice.dataset.remember;
    choice.value = localStorage.getItem(key) ?? "";
    choice.addEventListener("change", () => {
      if (choice.value) { localStorage.setItem(key, choice.value); } else { localStorage.removeItem(key); }
      if (key === "desk-theme") {
        if (choice.value) { document.documentElement.dataset.theme = choice.value; } else { delete document.documentElement.dataset.theme; }
      }
      say("Kept on this machine.");
    });
  });
  // A part with data-poll is fetched anew every so many milliseconds, as long as the new one asks for it.
  const poll = () => {
    const part = document.querySelector("[data-poll]");
    if (!part) { return; }
    setTimeout(async () => {
      try { swap(await (await fetch(location.href)).text()); } catch { say("The desk does not answer."); }
      poll();
    }, Number(part.dataset.poll));
  };

  const theme = localStorage.getItem("desk-theme");
  if (theme === "light" || theme === "dark") { document.documentElement.dataset.theme = theme; }
  searches();
  answers();
  tellsKeys();
  remembered();
  poll();
  window.desk = { say, swap };
})();
