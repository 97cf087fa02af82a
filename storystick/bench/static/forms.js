// The fields of a job: parts stay open or shut when the fields are drawn anew, and Enter goes on to the next size.
"use strict";

(() => {
  const all = (selector, root = document) => [...root.querySelectorAll(selector)];
  let seen = { thing: "", open: new Map() };

  const form = () => document.getElementById("form");

  document.body.addEventListener("htmx:oobBeforeSwap", (event) => {
    if (event.detail.target.id !== "form") return;
    seen = { thing: form().dataset.thing, open: new Map(all("details[data-part]", form()).map((each) => [each.dataset.part, each.open])) };
  });
  document.body.addEventListener("htmx:oobAfterSwap", (event) => {
    if (event.detail.target.id !== "form" || form().dataset.thing !== seen.thing) return;
    for (const part of all("details[data-part]", form())) {
      if (seen.open.has(part.dataset.part)) part.open = part.open || seen.open.get(part.dataset.part);
    }
  });

  // What is asked in a field is told at the foot of the fields while one is in it, so that nothing moves under the hand.
  function note() {
    const field = document.activeElement?.closest?.("#form .field");
    const words = field?.querySelector(":scope > .help") ?? (matchMedia("(min-width: 56rem)").matches ? form().querySelector(":scope > .help") : null);
    const place = document.getElementById("note");
    const name = field?.querySelector(":scope > label, :scope > legend");
    const told = words?.textContent.trim() ? [...words.cloneNode(true).childNodes] : [];
    place.replaceChildren(...(told.length && name ? [Object.assign(document.createElement("b"), { textContent: name.firstChild.textContent.trim() }), " "] : []), ...told);
    place.hidden = !told.length;
  }
  document.addEventListener("focusin", note);
  document.addEventListener("bench:shown", note);
  note();

  // Where the outline is one line, what is chosen is in sight.
  function inSight() {
    const [list, chosen] = [document.querySelector(".outline > ul"), document.querySelector(".outline .chosen")];
    if (list && chosen) list.scrollLeft = chosen.offsetLeft - list.offsetLeft - (list.clientWidth - chosen.offsetWidth) / 2;
  }
  document.addEventListener("bench:shown", () => requestAnimationFrame(inSight));
  inSight();

  // A thing that gets another name is met by that from then on.
  document.addEventListener("change", (event) => {
    const field = event.target;
    if (field.dataset.named === undefined || !field.value.trim()) return;
    const name = field.value.trim().replaceAll("~", "~0").replaceAll("/", "~1");
    bench.choose(`${field.dataset.at.slice(0, field.dataset.at.lastIndexOf("/"))}/${name}`);
  });

  // The sizes of openings stand one below another as they are drawn: Enter goes to the next, and from the last to what adds one.
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches("#form input")) return;
    event.preventDefault();
    if (event.target.matches("[data-late]")) event.target.dispatchEvent(new Event("change", { bubbles: true }));
    const own = event.target.closest(".openings");
    const column = event.target.closest(".row") && !event.target.matches("[data-named]"); // not onto the next name, to be typed over
    const fields = own
      ? [...all(".opening .lead > .field:first-child input", own), ...all(":scope > .actions button", own).slice(0, 1)]
      : column ? all(".row .lead > .field:last-child input", form())
      : all("input, select, textarea", form()).filter((each) => each.offsetParent);
    const at = fields.indexOf(event.target);
    fields[at + 1]?.focus();
    if (fields[at + 1]?.select) fields[at + 1].select();
  });
})();
