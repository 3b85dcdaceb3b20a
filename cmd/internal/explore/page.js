"use strict";
// Sends what is asked for, puts the parts of the page that changed in the place of the old
// ones, and listens for news. Without it every button loads the whole page.
(() => {
  const parts = new Map(); // what each part was sent as
  for (const e of document.querySelectorAll("[data-part]")) parts.set(e.id, e.outerHTML);
  const open = new Map(); // which details were left open or closed; also of those that are away for a while
  let asked = null; // the request under way: a newer one ends it
  let number = 0;
  let next = ""; // what has the focus when the answer is shown; "": what has it now, or is in its place

  const path = (e) => {
    if (!e || e === document.body) return null;
    if (e.id) return { id: e.id };
    const form = e.closest("form");
    const details = e.closest("details, [data-part]");
    if (!form || !details) return null;
    const like = [...details.querySelectorAll(e.tagName)];
    return { within: details.id, tag: e.tagName, name: e.name, label: e.getAttribute("aria-label"), at: like.indexOf(e) };
  };
  const find = (p) => {
    if (!p) return null;
    if (p.id) return document.getElementById(p.id);
    const within = document.getElementById(p.within);
    if (!within) return null;
    const like = [...within.querySelectorAll(p.tag)];
    return like.find((e) => p.label && e.getAttribute("aria-label") === p.label && e.name === p.name) ||
      like[Math.min(p.at, like.length - 1)];
  };

  // What is read aloud stays in the page: its words alone change.
  const say = (words) => {
    const said = document.getElementById("said");
    if (said.textContent !== words) said.textContent = words;
  };

  const show = (html) => {
    const doc = new DOMParser().parseFromString(html, "text/html");
    say(doc.getElementById("said").textContent);
    const focus = path(document.activeElement);
    const wasIn = document.activeElement && document.activeElement.closest("[data-part]");
    for (const fresh of doc.querySelectorAll("[data-part]")) {
      const old = document.getElementById(fresh.id);
      if (!old || parts.get(fresh.id) === fresh.outerHTML) continue;
      parts.set(fresh.id, fresh.outerHTML);
      for (const d of old.querySelectorAll("details[id]")) open.set(d.id, d.open);
      old.replaceWith(document.adoptNode(fresh));
      for (const d of document.getElementById(fresh.id).querySelectorAll("details[id]")) {
        if (open.has(d.id)) d.open = open.get(d.id);
      }
    }
    const lost = wasIn && !document.contains(wasIn);
    const e = next ? document.getElementById(next) : lost ? find(focus) : null;
    if (e) e.focus({ preventScroll: !next });
    next = "";
  };

  const load = async (address, init) => {
    if (asked) asked.abort();
    const mine = asked = new AbortController();
    number++;
    const was = number;
    try {
      const r = await fetch(address, { ...init, signal: mine.signal, headers: { "X-Part": "1" } });
      const html = await r.text();
      if (was !== number) return;
      if (r.ok) show(html);
      else say("That was not taken (" + r.status + "): " + html);
    } catch (e) {
      if (e.name !== "AbortError") say("The program has ended: start it again.");
    } finally {
      if (asked === mine) asked = null;
    }
  };

  document.addEventListener("submit", (e) => {
    const form = e.target;
    if (!form.closest("[data-part]") || form.getAttribute("action") === "end") return;
    e.preventDefault();
    next = form.dataset.focus || "";
    load(form.getAttribute("action"), { method: "POST", body: new URLSearchParams(new FormData(form, e.submitter)) });
  });

  const news = new EventSource("events");
  news.addEventListener("change", () => { if (!asked) load("part"); else setTimeout(() => load("part"), 50); });
  news.addEventListener("told", (e) => {
    const told = document.getElementById("told");
    if (told) told.textContent = e.data;
  });
  news.addEventListener("over", () => {
    news.close();
    say("The program has ended: start it again.");
  });
})();
