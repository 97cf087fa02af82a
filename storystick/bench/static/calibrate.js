// Measuring a printer: what was read is kept while the page is open, and what follows from it is shown at once.
"use strict";

(() => {
  if (!document.querySelector(".work")) return;
  const WAIT_MS = 400;
  const KEY = "storystick rules";
  const form = () => document.getElementById("calibrate");
  let timer = 0;
  let asked = 0;
  let shown = ""; // the last answer, for when the tab is drawn anew

  const fields = () => [...form().querySelectorAll("input, select")];
  const isRead = () => ["rule_printer", "rule_along", "rule_across"].every((name) => form().elements[name].value.trim());

  function keep() {
    const typed = Object.fromEntries(fields().map((field) => [field.name, field.value]));
    try { sessionStorage.setItem(KEY, JSON.stringify(typed)); } catch { /* kept as long as the tab is in sight */ }
  }

  async function show(more = {}) {
    clearTimeout(timer);
    const mine = ++asked;
    const sent = new URLSearchParams([...new FormData(form()), ["text", bench.text()], ...Object.entries(more)]);
    let answer;
    try {
      answer = await (await fetch(form().action, { method: "POST", body: sent, headers: { "HX-Request": "true" } })).text();
    } catch {
      bench.say("The program does not answer. What you typed is kept here: is it still running?");
      return;
    }
    if (mine !== asked) return;
    shown = answer;
    if (form()) form().querySelector(".calibrated").innerHTML = shown;
    if (more.keep) bench.send(); // The printer can be chosen now.
  }

  function begin() {
    if (!form() || form().dataset.begun) return;
    form().dataset.begun = "1";
    let typed = null;
    try { typed = JSON.parse(sessionStorage.getItem(KEY)); } catch { /* none */ }
    for (const field of fields()) if (typed?.[field.name]) field.value = typed[field.name];
    if (fields().some((field) => field.localName === "input" && field.value)) form().querySelector("details").open = true;
    form().querySelector(".calibrated").innerHTML = shown;
    if (!shown && isRead()) show();
  }

  document.addEventListener("input", (event) => {
    if (!event.target.closest("#calibrate")) return;
    keep();
    clearTimeout(timer);
    if (isRead()) timer = setTimeout(show, WAIT_MS);
  });
  document.addEventListener("submit", (event) => {
    if (event.target.id !== "calibrate") return;
    event.preventDefault();
    show();
  });
  document.addEventListener("click", (event) => {
    if (event.target.closest("[data-calibrate=keep]")) show({ keep: "1" });
  });
  document.addEventListener("bench:shown", begin);
  begin();
})();
