"use strict";
// Sends what is asked for, takes what changed into the page, and listens for news. What is being typed stays, with
// the focus. Without it every button loads the whole page.
(() => {
  const parts = new Map(); // what each part was sent as
  for (const e of document.querySelectorAll("[data-part]")) parts.set(e.id, e.outerHTML);
  const open = new Map(); // which details were left open or closed; also of those that are away for a while
  let typed = new WeakSet(); // fields that were typed into since they were sent

  // What is read aloud stays in the page: its words alone change.
  const say = (words) => {
    const said = document.getElementById("said");
    if (said.textContent !== words) said.textContent = words;
  };

  const over = () => say("The program has ended: start it again.");

  const named = (e) => e.nodeType !== Node.ELEMENT_NODE ? "" :
    e.id || (e.matches("input:not([type=hidden]), select") ? e.name : "");

  // Which of some old nodes, from one on, a fresh one is; null: none. What has a name is found by it.
  const same = (old, fresh) => {
    const name = named(fresh);
    for (; old; old = old.nextSibling) {
      if (old.nodeName === fresh.nodeName && named(old) === name) return old;
      if (!name && named(old)) return null;
    }
    return null;
  };

  // An element becomes as a fresh one is. What is the same in both stays in the page, so that what is typed, the
  // caret and the focus stay.
  const become = (old, fresh) => {
    if (old.nodeType !== Node.ELEMENT_NODE) {
      if (old.data !== fresh.data) old.data = fresh.data;
      return;
    }
    if (old.namespaceURI !== document.body.namespaceURI) { // a figure
      if (!old.isEqualNode(fresh)) old.replaceWith(document.adoptNode(fresh));
      return;
    }
    const field = old.matches("input, select");
    const value = field && (typed.has(old) ? old : fresh).value;
    const left = (a) => a.name === "open" && old.id; // as it was left
    for (const a of [...old.attributes]) if (!fresh.hasAttribute(a.name) && !left(a)) old.removeAttribute(a.name);
    for (const a of fresh.attributes) {
      if (old.getAttribute(a.name) !== a.value && !left(a)) old.setAttribute(a.name, a.value);
    }
    let at = old.firstChild;
    const goTo = (end) => {
      while (at !== end) {
        const away = at;
        at = at.nextSibling;
        away.remove();
      }
    };
    for (const f of [...fresh.childNodes]) {
      const o = same(at, f);
      if (o) {
        goTo(o);
        at = o.nextSibling;
        become(o, f);
        continue;
      }
      old.insertBefore(document.adoptNode(f), at);
    }
    goTo(null);
    if (!field || old.value === value) return;
    const all = old === document.activeElement && old.selectionStart === 0 && old.selectionEnd === old.value.length;
    old.value = value;
    if (all) old.select();
  };

  // Where the focus is; where it goes after a change: to what has the same words there, or the same place.
  const place = () => {
    const e = document.activeElement;
    const within = e && e.closest("details[id], [data-part]");
    if (!within || within === e) return null;
    const label = e.getAttribute("aria-label");
    return { e, label, within: within.id, like: [...within.querySelectorAll(e.tagName)].indexOf(e) };
  };
  const back = (p) => {
    const within = p && document.getElementById(p.within);
    if (!within || p.e.isConnected && p.e.getAttribute("aria-label") === p.label) return;
    const like = [...within.querySelectorAll(p.e.tagName)];
    const e = p.label && like.find((l) => l.getAttribute("aria-label") === p.label) ||
      !p.e.isConnected && like[Math.min(p.like, like.length - 1)];
    if (e) e.focus({ preventScroll: true });
  };

  // Where an answer leads, if the focus is still where it was: to the first field of the form that is wrong, else to
  // what the form names, or nowhere. null: there is none under way.
  let next = null;

  let has = ""; // the parts that were sent: those that are as they were are not sent again
  let version = Number(document.getElementById("status-part").dataset.version); // of what is shown

  // What a part is sent as next is shown, even if it was sent so before: what was typed into it goes.
  const anew = (id) => {
    parts.delete(id);
    has = has.split(" ").filter((h) => !h.startsWith(id + ":")).join(" ");
  };

  const show = (html) => {
    const doc = new DOMParser().parseFromString(html, "text/html");
    const status = doc.getElementById("status-part");
    if (!status) return say(html);
    say(doc.getElementById("said").textContent);
    has = status.dataset.has;
    version = Number(status.dataset.version);
    const focus = place();
    const stayed = next && [next.from, document.body].includes(document.activeElement);
    for (const fresh of doc.querySelectorAll("[data-part]")) {
      const sent = fresh.outerHTML;
      if (!fresh.hasAttribute("aria-busy")) document.getElementById(fresh.id).removeAttribute("aria-busy");
      if (parts.get(fresh.id) === sent) continue;
      parts.set(fresh.id, sent);
      for (const d of fresh.querySelectorAll("details[id]")) if (open.has(d.id)) d.open = open.get(d.id);
      become(document.getElementById(fresh.id), fresh);
    }
    const to = stayed && (document.querySelector("#" + next.form + " [aria-invalid]") || document.getElementById(next.id));
    if (to) to.focus();
    else back(focus);
    next = null;
  };

  let number = 0; // of the newest request: what an older one brings is not shown
  let ended = 0; // the newest request that has ended
  let drop = () => {}; // ends the request that is under way; nothing, while it is a question on its way to the server
  let taken = Promise.resolve(); // that the server has every question so far
  let news = 0; // the latest version that there is

  // A question waits until the server has the one before: none is lost, and the newest is the last.
  const load = async (address, question) => {
    const mine = ++number;
    const before = taken;
    const end = new AbortController();
    let took = () => {};
    drop();
    drop = question ? () => {} : () => end.abort();
    const known = news;
    if (question) taken = new Promise((resolve) => { took = resolve; });
    try {
      await before;
      if (!question && mine !== number) return;
      const r = await fetch(address, { ...question, signal: end.signal, headers: { "X-Part": "1", "X-Has": has } });
      took(); // the head of an answer comes as soon as the question is taken
      if (mine !== number) return end.abort();
      drop = () => end.abort();
      const html = await r.text();
      if (mine !== number) return;
      if (r.ok) show(html);
      else say("That was not taken (" + r.status + "): " + html);
    } catch (e) {
      if (e.name !== "AbortError") over();
    } finally {
      took();
      if (mine === number) {
        ended = mine;
        if (news > Math.max(version, known)) load("part");
      }
    }
  };

  // To stop waits for nothing that is under way; what comes of it is news.
  const stop = async (form) => {
    try {
      await fetch("stop", { method: "POST", body: new URLSearchParams(new FormData(form)), headers: { "X-Part": "1" } });
      document.getElementById("answer-part").focus();
    } catch (e) {
      over();
    }
  };

  document.addEventListener("submit", (e) => {
    const form = e.target;
    if (!form.closest("[data-part]") || form.getAttribute("action") === "end") return;
    e.preventDefault();
    if (form.getAttribute("action") === "stop") return stop(form);
    const within = form.closest("details[id], [data-part]");
    next = { id: form.dataset.focus, form: within.id, from: document.activeElement };
    if (form.hasAttribute("data-leave")) { // what is typed is of the case that is left
      typed = new WeakSet();
      for (const id of [...parts.keys()]) anew(id);
    }
    for (const field of form.elements) typed.delete(field);
    anew(form.closest("[data-part]").id);
    if (form.dataset.busy) {
      say(form.dataset.busy);
      anew("answer-part");
      document.getElementById("answer-part").setAttribute("aria-busy", "true");
    }
    load(form.getAttribute("action"), { method: "POST", body: new URLSearchParams(new FormData(form, e.submitter)) });
  });
  document.addEventListener("input", (e) => typed.add(e.target));
  document.addEventListener("toggle", (e) => open.set(e.target.id, e.target.open), true);

  let source = null;
  const listen = () => {
    source = new EventSource("events");
    source.addEventListener("change", (e) => {
      news = Number(e.data);
      if (ended === number && news > version) load("part");
    });
    source.addEventListener("told", (e) => {
      const told = document.getElementById("told");
      if (told) told.textContent = e.data;
    });
    source.addEventListener("error", over); // where it is there again after all, it tells of a change
    source.addEventListener("over", () => {
      source.close();
      over();
    });
  };
  listen();
  // A browser keeps few connections to one server: a page that is not looked at leaves its own to the others.
  document.addEventListener("visibilitychange", () => {
    source.close();
    if (!document.hidden) listen();
  });
})();
