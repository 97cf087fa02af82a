// Ending the program from the page; where something here is not saved, that is said first.
"use strict";

(() => {
  const button = document.querySelector("[data-end]");
  if (!button) return;
  const sure = document.createElement("section");
  sure.className = "ending";
  sure.setAttribute("role", "alert");
  sure.hidden = true;
  const words = document.createElement("p");
  const end = document.createElement("button");
  const stay = document.createElement("button");
  for (const each of [end, stay]) each.type = "button";
  end.textContent = "End";
  stay.textContent = "Stay";
  sure.append(words, end, stay);
  button.closest("header").after(sure);

  button.addEventListener("click", () => {
    words.textContent = bench.dirty?.()
      ? "Changes in this window are not saved. They are kept in this browser, and offered again when you come back. End all the same?"
      : "End the program? All windows of it stop working; jobs that are saved are safe.";
    sure.hidden = false;
    end.focus();
  });
  stay.addEventListener("click", () => { sure.hidden = true; button.focus(); });
  end.addEventListener("click", async () => {
    bench.leave?.();
    try {
      const answer = await fetch(button.dataset.end, { method: "POST" });
      if (!answer.ok) throw new Error(answer.statusText);
      const ended = document.createElement("main");
      ended.className = "ended";
      ended.innerHTML = await answer.text();
      document.body.replaceChildren(ended);
    } catch {
      words.textContent = "The program does not answer: it may have ended already.";
    }
  });
})();
