// Saving, and keeping what is not saved: in the browser, a window each, with the version of the file that it began from.
"use strict";

if (bench.text) (() => {
  const one = (selector) => document.querySelector(selector);
  const main = one(".work");
  const LOOK_MS = 4000;
  const prefix = `storystick draft ${main.dataset.folder} ${location.pathname} `;
  const key = `${prefix}${crypto.randomUUID?.() ?? Math.random()}`;
  const savedKey = `storystick saved ${main.dataset.folder} ${location.pathname}`;

  let version = main.dataset.version; // of the file that the draft began from
  let saved = bench.text();
  let seen = version; // the version on disk that was told of
  let keeps = true;
  let gone = false;
  let left = false;

  const dirty = () => bench.text() !== saved || bench.pending.length > 0;

  function keep() {
    if (left) return;
    try {
      if (dirty()) localStorage.setItem(key, JSON.stringify({ text: bench.text(), changes: bench.pending, version, when: Date.now() }));
      else localStorage.removeItem(key);
      keeps = true;
    } catch {
      keeps = false;
    }
    one("#state").textContent = !dirty() ? "Saved" : keeps ? "Not saved" : "Not saved, and this browser has no room to keep it";
    one("#save").disabled = !dirty();
  }

  // A window holds the lock of its key as long as it is open; what has none is left from one that is not.
  const noLocks = !navigator.locks;
  if (!noLocks) navigator.locks.request(key, () => new Promise(() => {}));

  async function windows() {
    if (noLocks) return new Set();
    const { held } = await navigator.locks.query();
    return new Set(held.map((lock) => lock.name).filter((name) => name.startsWith(prefix) && name !== key));
  }

  const names = () => { try { return Object.keys(localStorage); } catch { return []; } };
  const read = (name) => { try { return JSON.parse(localStorage.getItem(name)); } catch { return null; } };

  async function offer() {
    const open = await windows();
    if (left) return;
    one("#twice").hidden = !open.size;
    const orphans = names()
      .filter((name) => name.startsWith(prefix) && name !== key && !open.has(name))
      .map((name) => ({ name, ...read(name) }))
      .filter((kept) => typeof kept.text === "string" && (kept.text !== bench.text() || kept.changes?.length))
      .sort((a, b) => b.when - a.when);
    one("#offer").hidden = !orphans.length;
    if (!orphans.length) return;
    const [kept] = orphans;
    const other = kept.version === version ? "" : " The file has been changed since then: saving will show both.";
    const more = orphans.length > 1 ? ` There are ${orphans.length - 1} more.` : "";
    one("#offer-words").textContent = `Changes of ${new Date(kept.when).toLocaleString()} were not saved.${other}${more}`;
    one("#offer-take").onclick = () => take(kept);
    one("#offer-drop").onclick = () => { localStorage.removeItem(kept.name); offer(); };
  }

  async function take(kept) {
    version = kept.version;
    one("#offer").hidden = true;
    await bench.put(kept.text);
    for (const change of kept.changes ?? []) bench.change(change);
    keep();
    if (keeps) localStorage.removeItem(kept.name);
    offer();
  }

  async function save() {
    if (!(await bench.settled())) return;
    const sent = bench.text();
    if (await bench.post(main.dataset.save, { text: sent, version })) answered(sent);
  }

  // What came back for a text that was sent: it is saved, or there is something to be asked.
  function answered(sent) {
    const answer = one("#saving");
    const { version: now, elsewhere } = answer.dataset;
    if (now) {
      saved = sent;
      [version, seen] = [now, now];
      one("#meanwhile").hidden = true;
      keep();
      try { localStorage.setItem(savedKey, now); } catch { /* the others look every few seconds */ }
      if (elsewhere) location.href = elsewhere;
    } else if (answer.childElementCount) {
      seen = answer.dataset.now ?? seen;
      one("#meanwhile").hidden = true;
      answer.focus();
      answer.scrollIntoView({ block: "start" });
    }
  }

  function close() {
    one("#saving").replaceChildren();
    one("#saving").removeAttribute("class");
    one("#save").focus();
  }

  const choices = {
    again: save,
    close,
    keep() { version = one("#saving").dataset.now; return save(); },
    async take() {
      const theirs = one("#theirs").value;
      const now = one("#saving").dataset.now;
      close();
      await bench.put(theirs);
      [version, saved] = [now, theirs];
      keep();
    },
    async another() {
      if (!(await bench.settled())) return;
      const sent = bench.text();
      if (await bench.post(main.dataset.saveAs, { text: sent, as: one("#saving-name").value })) answered(sent);
    },
  };

  async function lookAtBoth() {
    if (!(await bench.settled())) return;
    if (await bench.post(main.dataset.compare, { text: bench.text() })) answered(null);
  }

  // Whether the file is still the one, and the program still there.
  async function look() {
    if (document.hidden || left) return;
    let now = null;
    try {
      const answer = await fetch(main.dataset.now);
      if (answer.ok) now = (await answer.json()).version;
      else bench.say("The program was started anew: open the address that it printed, then come back to this window. What you typed is kept here.");
    } catch {
      bench.say("The program does not answer: is it still running? What you typed is kept here.");
    }
    if (now === null) { gone = true; return; }
    if (gone) {
      gone = false;
      bench.say("");
      bench.send();
    }
    if (now !== version && now !== seen) {
      seen = now;
      one("#meanwhile").hidden = false;
    }
    if (now === version) one("#meanwhile").hidden = true;
  }

  document.addEventListener("bench:draft", keep);
  document.addEventListener("visibilitychange", () => { look(); offer(); });
  one("#save").addEventListener("click", save);
  one("#meanwhile-look").addEventListener("click", lookAtBoth);
  document.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-saving]");
    if (button) choices[button.dataset.saving]();
  });
  document.addEventListener("submit", (event) => {
    if (event.target.dataset.saving === undefined) return;
    event.preventDefault();
    choices[event.target.dataset.saving]();
  });
  window.addEventListener("storage", (event) => {
    if (event.key === savedKey) look();
    if (event.key?.startsWith(prefix)) offer();
  });
  window.addEventListener("pageshow", (event) => { if (event.persisted) location.reload(); });
  window.addEventListener("beforeunload", (event) => {
    if (left) return;
    bench.takeIn();
    keep();
    if (dirty()) event.preventDefault();
  });
  const looking = setInterval(look, LOOK_MS);
  keep();
  offer();
  setTimeout(offer, 1000); // the window before a reload is let go of by then
  bench.save = save;
  bench.dirty = dirty;
  bench.leave = () => { keep(); left = true; clearInterval(looking); };
})();
