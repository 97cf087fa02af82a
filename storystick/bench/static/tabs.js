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

  // Boxes to tick and to write in.
  const ticks = kept("ticks");

  function fillTicks() {
    for (const input of all("[data-kept]")) {
      const value = ticks.now[input.dataset.kept];
      if (input.type === "checkbox") input.checked = value === true;
      else input.value = value ?? "";
    }
    countTicks();
  }

  function tick(input) {
    const value = input.type === "checkbox" ? input.checked : input.value;
    if (value) ticks.now[input.dataset.kept] = value;
    else delete ticks.now[input.dataset.kept];
    ticks.keep();
    countTicks();
  }

  function countTicks() {
    const count = one(".ticked");
    if (!count) return;
    const boxes = all("input[type=checkbox][data-kept]");
    const done = boxes.filter((box) => box.checked).length;
    count.textContent = boxes.length ? `${done} of ${boxes.length} ${count.dataset.word}` : "";
    one("[data-forget=ticks]").hidden = !all("[data-kept]").some((input) => input.checked || (input.type !== "checkbox" && input.value));
  }

  function clearTicks() {
    for (const input of all("[data-kept]")) delete ticks.now[input.dataset.kept];
    ticks.keep();
    fillTicks();
  }

  // Clocks of stages: by the time of day, so they go on rightly while the page sleeps or is shut.
  const TICK_MS = 250;
  const MINUTE_MS = 60000;
  const clocks = kept("clocks");
  let ticking = 0;

  const phasesOf = (clock) => JSON.parse(clock.dataset.due);
  const timeOfDay = (at) => new Date(at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
  const capital = (words) => words[0].toUpperCase() + words.slice(1);
  const spoken = (ms) => { const minutes = Math.max(1, Math.round(ms / MINUTE_MS)); return `${minutes} minute${minutes === 1 ? "" : "s"}`; };

  function lasting(ms) {
    const seconds = Math.floor(Math.abs(ms) / 1000);
    const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60];
    const two = (number) => String(number).padStart(2, "0");
    return `${hours ? `${hours}:${two(minutes)}` : minutes}:${two(seconds % 60)}`;
  }

  // What is due next of a phase, how long until then, and whether little of that is left.
  function dueNext(due, started) {
    const ends = due.map(([word, minutes]) => ({ word, minutes, at: started + minutes * MINUTE_MS }));
    const next = ends.find((end) => end.at > Date.now()) ?? ends.at(-1);
    const left = next.at - Date.now();
    const little = Math.min(2 * MINUTE_MS, next.minutes * MINUTE_MS / 5);
    return { ends, next, left, state: left <= 0 ? "over" : left <= little ? "short" : "runs" };
  }

  function showClock(clock) {
    const phases = phasesOf(clock);
    const running = clocks.now[clock.dataset.clock];
    const phase = running && phases[running.phase];
    const [word, time] = [one(".clock-word", clock), one(".clock-time", clock)];
    if (!phase) {
      const [, due] = phases[0];
      clock.dataset.state = "still";
      word.textContent = due[0][0];
      time.textContent = `+${due[0][1]} min`; // a length of time: 18:00 reads as an hour of the day
      list(clock, due.slice(1).map(([words, minutes]) => `${words} +${minutes} min`));
      clock.dataset.said = "";
      buttons(clock, phases, -1);
      return;
    }
    const { ends, next, left, state } = dueNext(phase[1], running.at);
    clock.dataset.state = state;
    word.textContent = state === "over" ? `${next.word} ${timeOfDay(next.at)}: over by` : next.word;
    time.textContent = lasting(state === "over" ? left : Math.ceil(left / 1000) * 1000);
    list(clock, [`${phase[0]} ${timeOfDay(running.at)}`, ...ends.map((end) => `${end.word} ${timeOfDay(end.at)}`)]);
    buttons(clock, phases, running.phase);
    sayClock(clock, `${running.phase} ${next.word} ${state}`, {
      runs: `${spoken(left)} left: ${next.word} ${timeOfDay(next.at)}.`,
      short: `Only ${spoken(left)} left: ${next.word} ${timeOfDay(next.at)}.`,
      over: `Time is over: ${next.word} ${timeOfDay(next.at)}.`,
    }[state]);
  }

  function list(clock, lines) {
    const place = one(".clock-due", clock);
    const now = lines.join("\n");
    if (place.dataset.now === now) return;
    place.dataset.now = now;
    place.replaceChildren(...lines.map((line) => Object.assign(document.createElement("li"), { textContent: line })));
  }

  function sayClock(clock, what, words) {
    if (clock.dataset.said === what) return;
    clock.dataset.said = what;
    one("[aria-live]", clock).textContent = words;
  }

  // Start; then what begins the next phase, and an end.
  function buttons(clock, phases, phase) {
    if (clock.dataset.phase === String(phase)) return;
    const had = clock.contains(document.activeElement);
    clock.dataset.phase = phase;
    const button = (words, step, main) => {
      const made = Object.assign(document.createElement("button"), { type: "button", textContent: words, className: main ? "main" : "" });
      made.dataset.step = step;
      return made;
    };
    const next = phases[phase + 1];
    const all = next ? [button(phase < 0 ? "Start the clock" : `${capital(next[0])} now`, phase + 1, true)] : [];
    if (phase >= 0) all.push(button("Stop", -1, false));
    one(".clock-buttons", clock).replaceChildren(...all);
    if (had) all[0].focus();
  }

  function stepClock(button) {
    const clock = button.closest("[data-clock]");
    const phase = Number(button.dataset.step);
    if (phase < 0) delete clocks.now[clock.dataset.clock];
    else clocks.now[clock.dataset.clock] = { phase, at: Date.now() };
    clocks.keep();
    one("[aria-live]", clock).textContent = phase < 0 ? "The clock is stopped." : "";
    showClocks();
  }

  function showClocks() {
    const shown = all("[data-clock]");
    shown.forEach(showClock);
    const runs = shown.some((clock) => clock.dataset.state !== "still");
    if (runs && !ticking) ticking = setInterval(showClocks, TICK_MS);
    if (!runs && ticking) { clearInterval(ticking); ticking = 0; }
  }

  document.addEventListener("visibilitychange", () => { if (!document.hidden) showClocks(); });

  document.addEventListener("input", (event) => {
    if (event.target.matches("[data-reading]")) typeReading(event.target);
    if (event.target.matches("[data-kept]")) tick(event.target);
  });
  document.addEventListener("click", (event) => {
    if (event.target.closest("[data-forget=readings]")) { readings.forget(); fillReadings(); }
    if (event.target.closest("[data-forget=ticks]")) clearTicks();
    const step = event.target.closest("[data-clock] button");
    if (step) stepClock(step);
  });

  // What is kept is filled in wherever a listing has been drawn anew.
  function fill() {
    fillReadings();
    fillTicks();
    showClocks();
  }
  document.addEventListener("bench:shown", fill);
  fill();
})();
