// The whole file as text: the number of each line beside it, and what is to be mended marked at its lines.
"use strict";

(() => {
  const one = (selector, root = document) => root.querySelector(selector);
  const area = () => one("#text");
  let ahead = false; // something typed that has not been sent yet
  let wanted = 0; // the line to go to as soon as the text is in sight

  const lines = () => area().value.split("\n");
  const here = () => area().value.slice(0, area().selectionStart).split("\n").length;
  const high = () => parseFloat(getComputedStyle(area()).lineHeight);

  // The sentences of faults by their lines.
  function marks() {
    const found = new Map();
    for (const item of document.querySelectorAll("#faults > li[data-line]")) {
      const line = Number(item.dataset.line);
      found.set(line, [...found.get(line) ?? [], one(".whole", item).textContent]);
    }
    return found;
  }

  function made(name, from = {}) {
    return Object.assign(document.createElement(name), from);
  }

  function draw() {
    if (!area()) return;
    const found = marks();
    const rows = lines();
    area().rows = rows.length;
    area().cols = Math.max(...rows.map((row) => row.replaceAll("\t", "        ").length)) + 4;
    one(".text-numbers").replaceChildren(...rows.map((_, at) => made("span", {
      textContent: at + 1, className: found.has(at + 1) ? "marked" : "",
    })));
    one(".text-bands").replaceChildren(...[...found.keys()].map((line) => {
      const band = made("span");
      band.style.top = `${(line - 1) * high()}px`;
      return band;
    }));
    if (found.size) area().setAttribute("aria-invalid", "true");
    else area().removeAttribute("aria-invalid");
    for (const button of document.querySelectorAll("#faults .go[data-line]")) {
      button.textContent = `Line ${button.dataset.line}`;
      button.setAttribute("aria-label", `Line ${button.dataset.line}: go to it in the text`);
    }
    tell();
  }

  // Where the caret stands, and what is to be mended there.
  function tell() {
    if (!area()) return;
    const words = (marks().get(here()) ?? []).join(" ");
    one("#text-at").textContent = `Line ${here()} of ${lines().length}`;
    if (one("#text-here").textContent !== words) one("#text-here").textContent = words;
    one("#text-here").hidden = !words;
  }

  function go(line) {
    const rows = lines();
    const at = Math.min(line, rows.length) - 1;
    const start = rows.slice(0, at).reduce((sum, row) => sum + row.length + 1, 0);
    const room = one(".text-room");
    area().focus({ preventScroll: true });
    area().setSelectionRange(start, start + rows[at].length);
    room.scrollTop = at * high() - room.clientHeight / 3;
    room.scrollLeft = 0;
    room.scrollIntoView({ block: "nearest" });
    tell();
  }

  function next(back) {
    const order = [...marks().keys()].sort((a, b) => (back ? b - a : a - b));
    const line = order.find((each) => (back ? each < here() : each > here())) ?? order[0];
    if (line) go(line);
  }

  // While it is typed into, the text is not put in anew: nothing typed may be lost, and the caret stays.
  document.addEventListener("htmx:oobBeforeSwap", (event) => {
    const fresh = event.detail.target.id === "view" && one("#text", event.detail.fragment);
    if (!fresh || !area()) return;
    event.detail.shouldSwap = false;
    if (ahead || area().value === fresh.value) return;
    const [start, end] = [area().selectionStart, area().selectionEnd];
    area().value = fresh.value;
    area().setSelectionRange(start, end);
  });
  document.addEventListener("htmx:oobAfterSwap", (event) => {
    if (!area() || event.detail.target.id === "draft") return;
    queueMicrotask(() => {
      draw();
      if (wanted) go(wanted);
      wanted = 0;
    });
  });
  document.addEventListener("htmx:configRequest", (event) => {
    if (event.detail.path === one(".work")?.dataset.edit) ahead = false;
  });
  document.addEventListener("input", (event) => {
    if (event.target !== area()) return;
    ahead = true;
    draw();
  });
  document.addEventListener("selectionchange", () => { if (document.activeElement === area()) tell(); });
  document.addEventListener("keydown", (event) => {
    if (event.key !== "F8" || !area()) return;
    event.preventDefault();
    next(event.shiftKey);
  });
  // With the text in sight a fault leads to its line, and so does one that has no field.
  document.addEventListener("click", (event) => {
    const button = event.target.closest("#faults .go[data-line]");
    if (!button || (!area() && button.dataset.choose)) return;
    event.stopImmediatePropagation();
    if (area()) return go(Number(button.dataset.line));
    wanted = Number(button.dataset.line);
    one("#tab-text").click();
  }, true);
  document.addEventListener("click", (event) => {
    const number = event.target.closest(".text-numbers > span");
    if (number) go(Number(number.textContent));
  });
  draw();
})();
