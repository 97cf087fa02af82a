"use strict";
(function () {
  var page = document.documentElement;
  var place = "storystick bench sheet " + document.body.getAttribute("data-kept");
  var kept = {};
  var keeps = true;

  function all(selector, within) {
    return Array.prototype.slice.call((within || document).querySelectorAll(selector));
  }

  function load() {
    try {
      kept = JSON.parse(window.localStorage.getItem(place)) || {};
      window.localStorage.setItem(place, JSON.stringify(kept));
    } catch (error) {
      kept = {};
      keeps = false;
    }
    document.getElementById("unkept").hidden = keeps;
  }

  function save() {
    if (!keeps) { return; }
    try {
      window.localStorage.setItem(place, JSON.stringify(kept));
    } catch (error) {
      keeps = false;
      document.getElementById("unkept").hidden = false;
    }
  }

  function show(input) {
    var value = kept[input.getAttribute("data-keep")];
    if (input.type === "checkbox") {
      input.checked = value === true;
    } else {
      input.value = typeof value === "string" ? value : "";
    }
  }

  function take(input) {
    var value = input.type === "checkbox" ? input.checked : input.value;
    var key = input.getAttribute("data-keep");
    if (value) { kept[key] = value; } else { delete kept[key]; }
  }

  function two(number) {
    return (number < 10 ? "0" : "") + number;
  }

  // What follows from a time that was taken down, on the same clock.
  function follow(input) {
    if (input.type !== "time") { return; }
    var read = /^(\d\d):(\d\d)/.exec(input.value);
    all("output").forEach(function (output) {
      if (output.htmlFor.value !== input.id) { return; }
      var after = Number(output.getAttribute("data-after"));
      if (!read) {
        output.textContent = "+" + after + " min";
        return;
      }
      var minutes = (Number(read[1]) * 60 + Number(read[2]) + Math.floor(after)) % 1440;
      output.textContent = two(Math.floor(minutes / 60)) + ":" + two(minutes % 60);
    });
  }

  function count() {
    all(".count").forEach(function (shown) {
      var boxes = all("input[type=checkbox]", document.getElementById(shown.getAttribute("data-of")));
      var done = boxes.filter(function (box) { return box.checked; }).length;
      shown.textContent = boxes.length ? " " + done + " of " + boxes.length : "";
    });
  }

  function showAll() {
    all("[data-keep]").forEach(function (input) {
      show(input);
      follow(input);
    });
    count();
  }

  function changed(event) {
    var input = event.target;
    if (!input.hasAttribute || !input.hasAttribute("data-keep")) { return; }
    take(input);
    follow(input);
    save();
    count();
  }

  function now(button) {
    var input = document.getElementById(button.getAttribute("data-for"));
    var time = new Date();
    input.value = two(time.getHours()) + ":" + two(time.getMinutes());
    take(input);
    follow(input);
    save();
  }

  function isDark() {
    var chosen = page.getAttribute("data-shade");
    return chosen ? chosen === "dark" : window.matchMedia("(prefers-color-scheme: dark)").matches;
  }

  function nameShade() {
    document.getElementById("shade").textContent = isDark() ? "Light" : "Dark";
  }

  function shade(value) {
    if (value === "dark" || value === "light") { page.setAttribute("data-shade", value); }
    nameShade();
  }

  document.addEventListener("change", changed);
  document.addEventListener("input", changed);
  document.addEventListener("click", function (event) {
    var button = event.target;
    if (button.className === "now") { now(button); }
    if (button.id === "shade") {
      kept.shade = isDark() ? "light" : "dark";
      shade(kept.shade);
      save();
    }
    if (button.id === "clear" && window.confirm("Clear all ticks, times and readings of this sheet?")) {
      kept = kept.shade ? { shade: kept.shade } : {};
      save();
      showAll();
    }
  });
  window.addEventListener("storage", function (event) {
    if (event.key === place) {
      load();
      showAll();
    }
  });

  load();
  shade(kept.shade);
  showAll();
  all("#shade, #clear, .now").forEach(function (button) { button.hidden = false; });
})();
