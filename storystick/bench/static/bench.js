// The page of a job. The draft is the text in #draft: what is typed is sent with it, and the answer brings it changed.
"use strict";

const bench = (() => {
  const one = (selector, root = document) => root.querySelector(selector);
  const all = (selector, root = document) => [...root.querySelectorAll(selector)];
  const main = one(".work");
  if (!main) return {};

  const WAIT_MS = 30; // after a key, for the next one
  const AGAIN_MS = 2000; // until the program is asked again that did not answer
  const ONE_STEP_MS = 1500; // what is typed into one field within this is undone at once
  const MOST_STEPS = 200;

  const REFUSALS = {
    0: "The program does not answer: is it still running?",
    403: "The program was started anew: open the address that it printed, then come back to this window.",
    413: "The job is larger than anything that belongs here.",
    other: "Something went wrong in the program. Undo the last step, or try it again.",
  };

  const text = () => one("#draft").value;
  const say = (words) => { one("#say").textContent = words; };

  // What is pending goes out in one request; while one is on its way, the next waits. No change is ever dropped: what
  // is typed takes the place of what was typed there before, and every other change is one of its own.
  let pending = new Map();
  let underWay = { before: "", sent: new Map() };
  let asksForm = false;
  let asksMore = false; // whether something else was asked for while a request was on its way
  let focusAt = null;
  let timer = 0;
  let busy = false;
  let counted = 0;
  const REPLACED = ["set", "raw", "rename", "text"];
  let chosen = main.dataset.at;
  let tab = one("[role=tab][aria-selected=true]").dataset.tab;

  function change(one, wait = 0) {
    pending.set(`${one.kind} ${one.at}${REPLACED.includes(one.kind) ? "" : ` ${counted += 1}`}`, one);
    shown();
    clearTimeout(timer);
    timer = setTimeout(send, wait);
  }

  async function send() {
    clearTimeout(timer);
    asksMore = busy;
    if (busy) return;
    busy = true;
    const [sent, before, withForm, focus] = [pending, text(), asksForm, focusAt];
    const values = { text: before, at: chosen, tab, shown: one("#view").dataset.of, drawn: one("#view .drawing")?.dataset.of ?? "", changes: JSON.stringify([...sent.values()]) };
    if (withForm) values.form = "1";
    [pending, asksForm, focusAt] = [new Map(), false, null];
    underWay = { before, sent };
    const status = await post(main.dataset.edit, values);
    busy = false;
    underWay = { before, sent: new Map() };
    if (!isDone(status)) {
      [pending, asksForm, focusAt] = [new Map([...sent, ...pending]), withForm || asksForm, focusAt ?? focus];
      if (status === 0) timer = setTimeout(send, AGAIN_MS);
      return;
    }
    if (text() !== before) remember(before, [...sent.keys()].join());
    settle(focus);
    if (pending.size || asksForm || asksMore) send();
  }

  const isDone = (status) => status >= 200 && status < 300;

  // The status of the answer, 0 for none; its pieces have found their places by then. One request follows the other.
  let turn = Promise.resolve();
  function post(url, values) {
    turn = turn.then(() => posted(url, values));
    return turn;
  }

  async function posted(url, values) {
    let status = 0;
    const note = (event) => { status = event.detail.xhr.status; };
    main.addEventListener("htmx:afterRequest", note, { once: true });
    try {
      await htmx.ajax("POST", url, { source: main, target: main, swap: "none", values });
    } catch { /* told below */ }
    main.removeEventListener("htmx:afterRequest", note);
    say(isDone(status) ? "" : `${REFUSALS[status] ?? REFUSALS.other} What you typed is kept here.`);
    return status;
  }

  function settle(focus) {
    placeFaults();
    markChosen();
    shown();
    if (focus && !focus.twin) fieldAt(focus.at)?.focus();
    else if (focus || held) goOn(held, focus?.twin);
    held = null;
    one("#faults > .refused")?.scrollIntoView({ block: "center" }); // nothing else in sight tells of it
    document.dispatchEvent(new Event("bench:shown"));
  }

  // Undo and redo are earlier and later texts.
  const past = [];
  const future = [];
  let last = { what: "", at: 0 };

  function remember(before, what) {
    const now = Date.now();
    const same = what === last.what && now - last.at < ONE_STEP_MS && /^(set|text) [^,]*$/.test(what);
    last = { what, at: now };
    if (!same) past.push(before);
    if (past.length > MOST_STEPS) past.shift();
    future.length = 0;
  }

  async function step(from, onto) {
    if (!(await settled())) return from === past && forget();
    if (!from.length) return;
    onto.push(text());
    one("#draft").value = from.pop();
    last = { what: "", at: 0 };
    asksForm = true;
    shown();
    send();
  }

  // What cannot be sent is the last step that there is.
  function forget() {
    pending.clear();
    asksForm = true;
    shown();
    send();
  }

  // A whole text in the place of the draft; undo brings that back.
  async function put(words) {
    await settled();
    if (words === text()) return;
    past.push(text());
    future.length = 0;
    one("#draft").value = words;
    last = { what: "", at: 0 };
    asksForm = true;
    shown();
    await send();
  }

  // What was typed and is not in the draft yet: that which is on its way may still be lost with the window.
  function unanswered() {
    const sent = text() === underWay.before ? underWay.sent.values() : [];
    return [...sent, ...pending.values()];
  }

  // Let what is typed into a field that waits until it is left be taken now.
  function takeIn() {
    const field = document.activeElement;
    if (!field?.matches("[data-late]")) return;
    field.blur();
    field.focus();
  }

  // Until all that was typed is in the draft.
  async function settled() {
    while (busy || pending.size) {
      if (!busy) await send();
      if (!busy && pending.size) return false;
      await new Promise((wake) => setTimeout(wake, 20));
    }
    return true;
  }

  // Saving, and keeping what is not saved, listens to this.
  function shown() {
    one("#undo").disabled = !past.length;
    one("#redo").disabled = !future.length;
    document.dispatchEvent(new Event("bench:draft"));
  }

  // Faults stand at their fields, by the longest beginning of their place that has one.
  function placeFaults() {
    for (const slot of all(".fault")) { slot.hidden = true; slot.textContent = ""; }
    for (const input of all("[aria-invalid]")) input.removeAttribute("aria-invalid");
    for (const item of all("#faults > li[data-at]")) {
      const field = closest(item.dataset.at);
      const slot = field && one(":scope > .fault", field);
      if (!slot) continue;
      // What is deeper in the file than any field says where that is.
      const words = field.dataset.at === item.dataset.at ? item.dataset.words : one(".whole", item).textContent;
      slot.textContent += `${slot.textContent ? " " : ""}${words}`;
      slot.hidden = false;
      one("input, select, textarea", field)?.setAttribute("aria-invalid", "true");
    }
  }

  // The field of a place, or of the nearest thing round it that has one.
  function closest(at) {
    for (let place = at; place; place = place.slice(0, place.lastIndexOf("/"))) {
      const field = one(`#form .field[data-at="${CSS.escape(place)}"]`);
      if (field) return field;
    }
    return null;
  }

  // The control of a place, or the first one below it, or that of the nearest thing round it.
  function fieldAt(at) {
    const place = CSS.escape(at);
    const below = `#form .field[data-at="${place}"], #form .field[data-at^="${place}\\/"]`;
    const controls = "input:checked, input:not([type=radio]), select, textarea, button";
    const field = all(at ? below : "#form .field").find((each) => one(controls, each)) || closest(at);
    return field && opened(one(controls, field));
  }

  function opened(control) {
    for (let part = control?.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
    return control;
  }

  // The fields are drawn anew from what was sent: what has been typed since then stands in them again, and what has
  // the focus by then keeps it, with its caret.
  let held = null;
  document.body.addEventListener("htmx:oobBeforeSwap", (event) => {
    if (event.detail.target.id !== "form") return;
    const control = document.activeElement.closest("#form [data-at]");
    held = control && { control, late: "late" in control.dataset, caret: [control.selectionStart, control.selectionEnd] };
  });
  document.body.addEventListener("htmx:oobAfterSwap", (event) => {
    if (event.detail.target.id !== "form") return;
    const typed = [...pending.values()];
    if (held?.late) typed.push({ kind: held.control.dataset.change, at: held.control.dataset.at, value: held.control.value });
    for (const { kind, at, value } of typed) {
      const place = `[data-change="${kind}"][data-at="${CSS.escape(at)}"]`;
      const field = one(`#form input${place}:not([type=radio], [type=checkbox]), #form textarea${place}`);
      if (field) field.value = value;
    }
  });

  function goOn(from, twin) {
    const control = twinOf(from?.control ?? twin);
    control?.focus();
    if (from && from.caret[0] != null && control?.localName === from.control.localName) control.setSelectionRange(...from.caret);
  }

  // What stands where a control stood before the fields were drawn anew.
  function twinOf(old) {
    const same = all(`#form ${old.localName}[data-at="${CSS.escape(old.dataset.at)}"]`);
    const alike = same.find((each) => each.type === "radio" ? each.checked : each.textContent === old.textContent);
    return alike ?? same[0] ?? fieldAt(old.dataset.at);
  }

  function markChosen() {
    for (const place of all("[data-at].place, [data-choose]")) {
      const at = place.dataset.choose ?? place.dataset.at;
      const is = at === chosen;
      place.classList.toggle("chosen", is);
      if (place.dataset.choose !== undefined) place.setAttribute("aria-current", is ? "true" : "false");
    }
  }

  function choose(at) {
    chosen = at;
    asksForm = true;
    focusAt = { at };
    send();
  }

  function show(button) {
    for (const other of all("[role=tab]")) {
      other.setAttribute("aria-selected", other === button);
      other.tabIndex = other === button ? 0 : -1;
    }
    tab = button.dataset.tab;
    send();
  }

  const valueOf = (input) => input.dataset.value ?? (input.type === "checkbox" ? String(input.checked) : input.value);

  function typed(input, wait) {
    if (input.dataset.form !== undefined) {
      asksForm = true;
      if (input.id !== "text") focusAt = { twin: input }; // the text keeps the caret that is in it
    }
    change({ kind: input.dataset.change, at: input.dataset.at, value: valueOf(input) }, wait);
  }

  document.addEventListener("input", (event) => {
    if (event.target.matches("[data-change]:not([data-late])")) typed(event.target, Number(event.target.dataset.wait ?? WAIT_MS));
  });
  // What is only of use when it is whole waits until the field is left.
  document.addEventListener("change", (event) => {
    if (event.target.matches("[data-change][data-late]")) typed(event.target, 0);
  });
  document.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-change]");
    // The second of two quick clicks would take out what has come into the place of the first.
    if (button && !(button.dataset.change === "remove" && event.detail > 1)) typed(button, 0);
    const place = event.target.closest("[data-choose], a.place");
    if (place) { event.preventDefault(); choose(place.dataset.choose ?? place.dataset.at); }
    const other = event.target.closest("[role=tab]");
    if (other) show(other);
  });
  document.addEventListener("submit", (event) => { if (event.target.id === "form") event.preventDefault(); });
  document.addEventListener("keydown", (event) => {
    const tabs = event.target.closest?.("[role=tablist]");
    if (tabs && ["ArrowLeft", "ArrowRight", "Home", "End"].includes(event.key)) {
      const buttons = all("[role=tab]", tabs);
      const at = buttons.indexOf(event.target);
      const by = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: -1 }[event.key];
      const next = buttons.at(by % buttons.length);
      next.focus();
      show(next);
      event.preventDefault();
    }
    if (!(event.ctrlKey || event.metaKey)) return;
    const press = event.key.toLowerCase();
    if (press === "s") { event.preventDefault(); takeIn(); one("#save").click(); }
    if (press === "z") { event.preventDefault(); event.shiftKey ? step(future, past) : step(past, future); }
    if (press === "y") { event.preventDefault(); step(future, past); }
  });
  one("#undo").addEventListener("click", () => step(past, future));
  one("#redo").addEventListener("click", () => step(future, past));
  placeFaults();
  markChosen();
  return {
    change, choose, send, put, settled, takeIn, text, say,
    post: async (url, values) => isDone(await post(url, values)),
    get tab() { return tab; },
    get pending() { return unanswered(); },
  };
})();
