// Drawings: how large they are shown, by buttons and by the keys + - 0, and how far each is scrolled.
"use strict";

(() => {
  const LEAST = 0.5;
  const MOST = 8;
  const STEP = 1.25;
  let zoom = 1;
  let scrolled = [];

  const papers = () => [...document.querySelectorAll(".drawing .paper")];

  function show(way) {
    const by = { in: STEP, out: 1 / STEP, whole: 1 / zoom }[way];
    const middles = papers().map((each) => [
      (each.scrollLeft + each.clientWidth / 2) / each.scrollWidth,
      (each.scrollTop + each.clientHeight / 2) / each.scrollHeight,
    ]);
    zoom = Math.min(MOST, Math.max(LEAST, zoom * by));
    document.documentElement.style.setProperty("--zoom", zoom);
    papers().forEach((each, number) => {
      const [x, y] = middles[number];
      each.scrollTo({ left: x * each.scrollWidth - each.clientWidth / 2, top: y * each.scrollHeight - each.clientHeight / 2, behavior: "instant" });
    });
  }

  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-zoom]");
    if (button) show(button.dataset.zoom);
  });
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || !event.target.closest?.("#view")) return;
    if (event.target.closest("input, textarea, select")) return;
    const way = { "+": "in", "=": "in", "-": "out", 0: "whole" }[event.key];
    if (way) { show(way); event.preventDefault(); }
  });

  // While a field is typed in, the drawing shows what it is of: the thing with the longest beginning of its place.
  function point() {
    const at = document.activeElement?.closest?.("#form [data-at]")?.dataset.at;
    const all = [...document.querySelectorAll(".drawing .place")];
    const begins = all.map((each) => each.dataset.at).filter((own) => at === own || at?.startsWith(`${own}/`));
    const nearest = begins.reduce((one, other) => (other.length > one.length ? other : one), "");
    for (const each of all) each.classList.toggle("near", nearest !== "" && each.dataset.at === nearest);
  }
  document.addEventListener("focusin", point);

  // What can be done with an opening that is chosen, from its fields.
  function offer() {
    const here = document.getElementById("here");
    if (!here) return;
    const at = document.querySelector(".drawing .place.chosen")?.dataset.at;
    const row = at && document.querySelector(`#form .opening[data-part="${CSS.escape(at)}"]`);
    const buttons = row ? [...row.querySelectorAll(":scope > .part > .inside > .actions > button")] : [];
    here.replaceChildren(...buttons.map((each) => each.cloneNode(true)));
    here.hidden = !buttons.length;
  }
  document.addEventListener("bench:shown", offer);

  // A drawing that is drawn again is scrolled as the one before it: at the next frame, which is laid out once for all.
  document.addEventListener("htmx:oobBeforeSwap", (event) => {
    if (event.target.id === "view") scrolled = papers().map((each) => [each.scrollLeft, each.scrollTop]);
  });
  document.addEventListener("htmx:oobAfterSwap", (event) => {
    if (event.target.id !== "view") return;
    requestAnimationFrame(() => papers().forEach((each, number) => {
      const [left, top] = scrolled[number] ?? [0, 0];
      if (left || top) each.scrollTo({ left, top, behavior: "instant" });
    }));
    point();
  });
})();
