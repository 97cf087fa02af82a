// The Print tab: what is chosen is counted, printed when asked for, and followed until it is done.
"use strict";

(() => {
  if (!document.querySelector(".work")) return;
  const WAIT_MS = 300;
  const LOOK_MS = 400;
  const form = () => document.getElementById("print");
  const state = () => document.getElementById("print-state");
  let looking = 0;

  async function ask(url, more = {}) {
    await bench.settled(); // The answer to what was typed draws the tab anew.
    if (!form()) return null;
    const sent = new FormData(form());
    sent.set("text", bench.text());
    for (const [name, value] of Object.entries(more)) sent.set(name, value);
    try {
      const headers = { "HX-Request": "true" }; // What went wrong comes as a piece for this page.
      const answer = await fetch(url, { method: "POST", body: new URLSearchParams(sent), headers });
      return await answer.text();
    } catch {
      bench.say("The program does not answer: is it still running?");
      return null;
    }
  }

  // What is ticked is ticked again where the tab is drawn anew.
  const key = `storystick print ${location.pathname}`;

  function keep() {
    const chosen = [...new FormData(form())];
    try { sessionStorage.setItem(key, JSON.stringify(chosen)); } catch { /* as the job says, then */ }
  }

  function takeUp() {
    let chosen = null;
    try { chosen = JSON.parse(sessionStorage.getItem(key)); } catch { /* none */ }
    if (!chosen) return;
    for (const box of form().querySelectorAll("[name=kind]")) {
      box.checked = chosen.some(([name, value]) => name === "kind" && value === box.value);
    }
    for (const [name, value] of chosen) {
      const select = form().querySelector(`select[name="${name}"]`);
      if (select && [...select.options].some((option) => option.value === value)) select.value = value;
    }
  }

  function correct() {
    const select = document.getElementById("print-printer");
    document.getElementById("print-correction").textContent = select.selectedOptions[0].dataset.correction;
  }

  // One count after the other: what is ticked meanwhile is counted together.
  let counts = null;
  let again = false;

  function count() {
    again = true;
    document.getElementById("print-plan")?.setAttribute("aria-busy", "true");
    counts ??= counted().finally(() => { counts = null; });
  }

  async function counted() {
    while (again) {
      again = false;
      const url = document.getElementById("print-plan")?.dataset.url;
      const answer = url && await ask(url);
      const plan = document.getElementById("print-plan");
      if (!plan || again) continue;
      if (answer) plan.querySelector(".counted").innerHTML = answer;
      plan.setAttribute("aria-busy", "false");
    }
  }

  function follow() {
    clearTimeout(looking);
    if (state()?.querySelector("[data-run=running]")) looking = setTimeout(look, LOOK_MS);
  }

  async function look() {
    const answer = form() && await ask(state().dataset.url);
    if (answer && state()) state().innerHTML = answer;
    follow();
  }

  async function print(more = {}) {
    const button = form().querySelector("button[type=submit]");
    if (button.getAttribute("aria-disabled") === "true") return;
    button.setAttribute("aria-disabled", "true");
    bench.say("Looking what there is to print.");
    const answer = await ask(form().action, more);
    button.setAttribute("aria-disabled", "false");
    if (answer === null || !state()) return;
    bench.say("");
    state().innerHTML = answer;
    state().querySelector(".print-ask")?.focus();
    follow();
  }

  async function act(what) {
    if (what === "not") look();
    if (what === "replace") print({ replace: "1" });
    if (what === "stop") {
      const answer = await ask(state().dataset.stop);
      if (answer !== null && state()) state().innerHTML = answer;
      follow();
    }
    if (what === "save") {
      await bench.save();
      if (!bench.dirty()) { count(); print(); }
    }
  }

  function begin() {
    if (!form() || form().dataset.begun) return;
    form().dataset.begun = "1";
    takeUp();
    correct();
    count();
    follow();
  }

  let timer = 0;
  document.addEventListener("change", (event) => {
    if (!event.target.closest("#print")) return;
    keep();
    correct();
    clearTimeout(timer);
    timer = setTimeout(count, WAIT_MS);
  });
  document.addEventListener("submit", (event) => {
    if (event.target.id !== "print") return;
    event.preventDefault();
    print();
  });
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-print-do]");
    if (button) act(button.dataset.printDo);
  });
  document.addEventListener("bench:shown", begin);
  begin();
})();
