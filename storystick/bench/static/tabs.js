// The listings of a job: what was measured is kept by the browser, and shown at once what follows from it.
"use strict";

(() => {
  const one = (selector, root = document) => root.querySelector(selector);
  const all = (selector, root = document) => [...root.querySelectorAll(selector)];
  if (!one(".work")) return;

  // Kept by the job's file, and by what it is: a page that may keep nothing goes on without.
  const kept = (what) => {
    const key = `storystick ${what} ${location.pathname}`;
    let now = {};
    try { now = JSON.parse(localStorage.getItem(key)) ?? {}; } catch { /* none */ }
    return {
      now,
      keep() {
        try {
          if (Object.keys(now).length) localStorage.setItem(key, JSON.stringify(now));
          else localStorage.removeItem(key);
        } catch { /* kept as long as the page is open */ }
      },
      forget() { for (const each of Object.keys(now)) delete now[each]; this.keep(); },
    };
  };

  // Squaring.
  const WAIT_MS = 150;
  const readings = kept("readings");
  let timer = 0;
  let asked = 0;

  function fillReadings() {
    for (const input of all("[data-reading]")) {
      input.value = readings.now[input.dataset.reading]?.[input.dataset.of] ?? "";
      if (input.value) for (let fold = input.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    }
    if (one("[data-reading]")) showReadings();
  }

  function typeReading(input) {
    const { reading, of } = input.dataset;
    const own = (readings.now[reading] ??= {});
    if (input.value.trim()) own[of] = input.value;
    else delete own[of];
    if (!Object.keys(own).length) delete readings.now[reading];
    readings.keep();
    clearTimeout(timer);
    timer = setTimeout(showReadings, WAIT_MS);
  }

  async function showReadings() {
    const place = one("[data-square]");
    const forget = one("[data-forget=readings]");
    if (forget) forget.hidden = !Object.keys(readings.now).length;
    if (!place) return;
    const mine = ++asked;
    const body = new URLSearchParams({ text: bench.text(), readings: JSON.stringify(readings.now) });
    let answer;
    try {
      const sent = await fetch(place.dataset.square, { method: "POST", body });
      if (!sent.ok) return;
      answer = await sent.text();
    } catch {
      bench.say("The program does not answer. What you typed is kept here: is it still running?");
      return;
    }
    if (mine !== asked) return;
    for (const found of all("[id]", new DOMParser().parseFromString(answer, "text/html").body)) {
      const old = document.getElementById(found.id);
      if (old && old.innerHTML !== found.innerHTML) old.innerHTML = found.innerHTML;
    }
  }

  document.addEventListener("input", (event) => {
    if (event.target.matches("[data-reading]")) typeReading(event.target);
  });
  document.addEventListener("click", (event) => {
    if (event.target.closest("[data-forget=readings]")) { readings.forget(); fillReadings(); }
  });

  // What is kept is filled in wherever a listing has been drawn anew.
  function fill() {
    fillReadings();
  }
  document.addEventListener("bench:shown", fill);
  fill();
})();
