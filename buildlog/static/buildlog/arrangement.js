// Balloons placed by hand: clicked on to the picture, dragged, or moved with the arrow keys. The entries hold
// what counts; without this file they are typed in, or the picture is clicked and the site works it out.
(function () {
  "use strict";

  var form = document.querySelector("form[data-placing]");
  if (!form) { return; }
  var SVG = "http://www.w3.org/2000/svg";
  var box = form.dataset.placing.split(" ").map(Number);
  var spots = form.querySelectorAll(".spot");
  var spot = spots[0];
  var picture = spot.querySelector("input");
  var overlay = spot.querySelector("svg");
  var chosen = form.elements.chosen;
  var said = form.querySelector("[data-said]");
  var BESIDE = 12;  // A first click puts the balloon so far above what it points at. [per cent]
  var dragged = false;

  spots[1].remove();
  spot.classList.add("live");

  var rows = [...form.querySelectorAll("tr[data-row]")].map(function (line) {
    var entries = line.querySelectorAll("input");
    return {
      pk: line.dataset.row, label: line.dataset.label, name: line.dataset.name, drawn: line.dataset.drawn,
      state: line.querySelector("[data-state]"), end: [entries[0], entries[1]], balloon: [entries[2], entries[3]]
    };
  });

  function row() { return rows.find(function (one) { return one.pk === chosen.value; }); }

  function figure(entry) {
    var text = entry.value.replace("%", "").replace(",", ".").trim();
    var value = text === "" ? NaN : Number(text);
    return value >= 0 && value <= 100 ? value : NaN;
  }

  function at(pair) {
    var found = pair.map(figure);
    return found.some(isNaN) ? null : found;
  }

  function put(pair, place) {
    place.forEach(function (value, way) {
      pair[way].value = String(Math.round(Math.min(100, Math.max(0, value)) * 10) / 10);
    });
  }

  function units(place) { return [box[0] + place[0] * box[2] / 100, box[1] + place[1] * box[3] / 100]; }

  function words(place) { return place[0] + " % across, " + place[1] + " % down"; }

  function draw(tag, attributes, parent, text) {
    var element = document.createElementNS(SVG, tag);
    Object.keys(attributes).forEach(function (name) { element.setAttribute(name, attributes[name]); });
    if (text) { element.textContent = text; }
    parent.append(element);
    return element;
  }

  // So large that a finger finds it, whatever the width of the picture.
  function ring() {
    var width = overlay.getBoundingClientRect().width || box[2];
    return Math.max(19, 15 * box[2] / width);
  }

  function handle(one, kind, place) {
    var is_end = kind === "end";
    var group = draw("g", {
      "class": "handle " + kind + (one.pk === chosen.value ? " chosen" : ""), tabindex: "0", role: "button",
      "data-row": one.pk, "data-kind": kind,
      "aria-label": one.label + " " + one.name + (is_end ? ", points at " : ", balloon at ") + words(place)
    }, overlay);
    var spot_at = units(place), size = ring();
    if (is_end) {
      draw("circle", { cx: spot_at[0], cy: spot_at[1], r: size * 0.85, "class": "grip" }, group);
      draw("circle", { cx: spot_at[0], cy: spot_at[1], r: size / 5, "class": "k" }, group);
      return;
    }
    draw("circle", { cx: spot_at[0], cy: spot_at[1], r: size, "class": "ring" }, group);
    draw("text", {
      x: spot_at[0], y: spot_at[1] + size * (one.label.length > 2 ? 0.25 : 0.4), "class": "bn",
      "font-size": size * (one.label.length > 2 ? 0.75 : 1.15)
    }, group, one.label);
  }

  function redraw() {
    var focused = document.activeElement && document.activeElement.closest(".handle");
    var kept = focused && [focused.dataset.row, focused.dataset.kind];
    overlay.replaceChildren();
    rows.forEach(function (one) {
      var end = at(one.end), balloon = at(one.balloon);
      one.state.textContent = end && balloon ? "" : "not placed yet";
      if (!end || !balloon) { return; }
      var from = units(balloon), to = units(end);
      ["lead under", "lead"].forEach(function (ink) {
        draw("path", { d: "M" + from.join(" ") + "L" + to.join(" "), "class": ink }, overlay);
      });
    });
    ["end", "balloon"].forEach(function (kind) {
      rows.forEach(function (one) {
        var place = at(one[kind]);
        if (place) { handle(one, kind, place); }
      });
    });
    if (kept) {
      var again = overlay.querySelector('[data-row="' + kept[0] + '"][data-kind="' + kept[1] + '"]');
      if (again) { again.focus({ preventScroll: true }); }
    }
  }

  function turn() { return form.elements.turn.value || "end"; }

  function set_turn(kind) { form.elements.turn.value = kind; }

  function tell(one, kind) {
    var place = at(one[kind]);
    if (!place) { return; }
    said.textContent = one.label + " " + one.name + (kind === "end" ? " points at " : " stands at ") + words(place)
      + ". " + (turn() === "end" ? "The next click sets what it points at." : "The next click puts its balloon.")
      + " Not written down yet.";
  }

  function choose(pk) {
    if (chosen.value === pk) { return; }
    chosen.value = pk;
    set_turn("end");
    overlay.querySelectorAll(".handle").forEach(function (one) {
      one.classList.toggle("chosen", one.dataset.row === pk);
    });
  }

  function move(one, kind, place) {
    put(one[kind], place);
    redraw();
    tell(one, kind);
  }

  function place_from(event) {
    var seen = picture.getBoundingClientRect();
    return [100 * (event.clientX - seen.left) / seen.width, 100 * (event.clientY - seen.top) / seen.height];
  }

  function click(one, place) {
    var kind = turn();
    if (kind === "end" && !at(one.balloon)) {
      put(one.balloon, [place[0], place[1] >= BESIDE ? place[1] - BESIDE : place[1] + BESIDE]);
    }
    if (kind === "balloon" && !at(one.end)) { put(one.end, place); }
    set_turn(kind === "end" ? "balloon" : "end");
    move(one, kind, place);
    if (kind === "end") { return; }
    // Both are set: on to the next that has no place.
    var next = rows.find(function (other) { return !at(other.end) || !at(other.balloon); });
    if (next && next !== one) {
      choose(next.pk);
      redraw();
      said.textContent = one.label + " is placed. Next: " + next.label + " " + next.name + "; click what it points at.";
    }
  }

  picture.addEventListener("click", function (event) {
    event.preventDefault();
    // By the keyboard there is no spot: begin in the middle, and go on with the arrow keys.
    if (row()) { click(row(), event.detail === 0 ? [50, 50] : place_from(event)); }
  });

  overlay.addEventListener("pointerdown", function (event) {
    var found = event.target.closest(".handle");
    if (!found || event.button) { return; }
    event.preventDefault();
    var one = rows.find(function (other) { return other.pk === found.dataset.row; });
    var kind = found.dataset.kind, id = event.pointerId;
    choose(one.pk);
    found.focus({ preventScroll: true });
    dragged = false;

    function drag(moved) {
      if (moved.pointerId !== id) { return; }
      dragged = true;
      move(one, kind, place_from(moved));
    }

    function drop(moved) {
      if (moved.pointerId !== id) { return; }
      window.removeEventListener("pointermove", drag);
      window.removeEventListener("pointerup", drop);
      window.removeEventListener("pointercancel", drop);
      if (!dragged) { tell(one, kind); }
    }

    window.addEventListener("pointermove", drag);
    window.addEventListener("pointerup", drop);
    window.addEventListener("pointercancel", drop);
  });

  overlay.addEventListener("focusin", function (event) {
    var found = event.target.closest(".handle");
    if (found) { choose(found.dataset.row); }
  });

  var WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

  spot.addEventListener("keydown", function (event) {
    var way = WAYS[event.key];
    if (!way || event.altKey || event.ctrlKey || event.metaKey || !row()) { return; }
    var found = event.target.closest(".handle");
    var one = row(), kind = found ? found.dataset.kind : "balloon", place = at(one[kind]);
    if (!place) { return; }
    event.preventDefault();
    var step = event.shiftKey ? 5 : 1;
    move(one, kind, [place[0] + way[0] * step, place[1] + way[1] * step]);
  });

  chosen.addEventListener("change", function () { set_turn("end"); redraw(); });
  rows.forEach(function (one) {
    one.end.concat(one.balloon).forEach(function (entry) { entry.addEventListener("input", redraw); });
  });
  window.addEventListener("resize", redraw);
  picture.addEventListener("load", redraw);
  redraw();
})();
