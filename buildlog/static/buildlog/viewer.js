// Looks closer at a sheet: wheel, two fingers, plus, minus and nought change its size, dragging moves it.
// Without this file the sheet stands at its full size in a box that scrolls.
(function () {
  "use strict";
  var MOST = 8, STEP = 1.25, KEY = 60, DRAG = 5;

  document.querySelectorAll("[data-viewer]").forEach(function (viewer) {
    var box = viewer.querySelector(".pan");
    var canvas = viewer.querySelector(".canvas");
    var sheet = canvas.querySelector("img, input[type=image]");
    var cross = canvas.querySelector(".cross > svg");
    var keys = viewer.querySelector("[data-viewer-keys]");
    var told = keys.querySelector("output");
    var scale = 1;            // of the sheet as it fits the box
    var spot = { x: 0.5, y: 0.5 };
    var fingers = new Map();  // what is held down, by its pointer
    var dragged = false, pinched = 0;

    var whole = new Image();  // An entry that is a picture does not tell how large the picture is.

    function ratio() { return whole.naturalWidth ? whole.naturalHeight / whole.naturalWidth : 0.7; }

    // How wide the whole sheet is when it just fits.
    function fitting() { return Math.min(box.clientWidth, box.clientHeight / ratio()); }

    // The point of the sheet under (x, y) of the box stays where it is.
    function zoom(to, x, y) {
      var wide = canvas.offsetWidth, high = canvas.offsetHeight;
      var left = (x + box.scrollLeft - canvas.offsetLeft) / wide;
      var top = (y + box.scrollTop - canvas.offsetTop) / high;
      scale = Math.min(MOST, Math.max(1, to));
      lay();
      box.scrollLeft = canvas.offsetLeft + left * canvas.offsetWidth - x;
      box.scrollTop = canvas.offsetTop + top * canvas.offsetHeight - y;
    }

    function middle(to) { zoom(to, box.clientWidth / 2, box.clientHeight / 2); }

    function lay() {
      canvas.style.width = fitting() * scale + "px";
      box.classList.toggle("fits", scale === 1);
      told.textContent = Math.round(scale * 100) + " %";
      put();
    }

    function put() {
      if (!cross) { return; }
      cross.setAttribute("x", spot.x * 100 + "%");
      cross.setAttribute("y", spot.y * 100 + "%");
    }

    function choose() {
      var address = sheet.dataset.place;
      location.assign(address + (address.includes("?") ? "&" : "?") +
        "x=" + spot.x.toFixed(4) + "&y=" + spot.y.toFixed(4));
    }

    function within(share) { return Math.min(1, Math.max(0, share)); }

    function moveCross(right, down) {
      spot.x = within(spot.x + right / canvas.offsetWidth);
      spot.y = within(spot.y + down / canvas.offsetHeight);
      put();
      var x = canvas.offsetLeft + spot.x * canvas.offsetWidth;
      var y = canvas.offsetTop + spot.y * canvas.offsetHeight;
      var wide = box.clientWidth / 4, high = box.clientHeight / 4;
      box.scrollLeft = Math.min(x - wide, Math.max(x + wide - box.clientWidth, box.scrollLeft));
      box.scrollTop = Math.min(y - high, Math.max(y + high - box.clientHeight, box.scrollTop));
    }

    var ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    box.addEventListener("keydown", function (event) {
      if (event.altKey || event.ctrlKey || event.metaKey) { return; }
      var way = ways[event.key];
      if (way && cross) {
        var far = event.shiftKey ? KEY : KEY / 10;
        moveCross(way[0] * far, way[1] * far);
      } else if (way) {
        box.scrollBy(way[0] * KEY, way[1] * KEY);
      } else if (event.key === "+" || event.key === "=") {
        middle(scale * STEP);
      } else if (event.key === "-") {
        middle(scale / STEP);
      } else if (event.key === "0") {
        middle(1);
      } else if (event.key === "Enter" && cross && !event.target.closest("a")) {
        choose();
      } else {
        return;
      }
      event.preventDefault();
    });

    keys.addEventListener("click", function (event) {
      var way = event.target.dataset.zoom;
      if (way) { middle(way === "in" ? scale * STEP : way === "out" ? scale / STEP : 1); }
    });

    function at(event) {
      var frame = box.getBoundingClientRect();
      return [event.clientX - frame.left, event.clientY - frame.top];
    }

    box.addEventListener("wheel", function (event) {
      event.preventDefault();
      var place = at(event);
      zoom(scale * Math.pow(STEP, -Math.sign(event.deltaY)), place[0], place[1]);
    }, { passive: false });

    // Two fingers are for the size: the browser is not to move the page by them.
    box.addEventListener("touchstart", function (event) {
      if (event.touches.length > 1) { event.preventDefault(); }
    }, { passive: false });

    function apart() {
      var two = [...fingers.values()];
      return {
        far: Math.hypot(two[0][0] - two[1][0], two[0][1] - two[1][1]),
        x: (two[0][0] + two[1][0]) / 2,
        y: (two[0][1] + two[1][1]) / 2
      };
    }

    box.addEventListener("pointerdown", function (event) {
      if (event.button) { return; }
      if (!fingers.size) { dragged = false; }
      fingers.set(event.pointerId, at(event));
      if (fingers.size === 2) { pinched = apart().far; dragged = true; }
    });

    box.addEventListener("pointermove", function (event) {
      var before = fingers.get(event.pointerId);
      if (!before) { return; }
      var now = at(event);
      var right = now[0] - before[0], down = now[1] - before[1];
      if (!dragged && Math.hypot(right, down) < DRAG) { return; }
      if (!dragged) { dragged = true; box.setPointerCapture(event.pointerId); }
      fingers.set(event.pointerId, now);
      if (fingers.size === 2) {
        var two = apart();
        if (pinched) { zoom(scale * two.far / pinched, two.x, two.y); }
        pinched = two.far;
      } else if (fingers.size === 1) {
        box.scrollBy(-right, -down);
      }
    });

    function let_go(event) { fingers.delete(event.pointerId); pinched = 0; }
    ["pointerup", "pointercancel"].forEach(function (name) { box.addEventListener(name, let_go); });
    box.addEventListener("pointerleave", function (event) { if (!dragged) { let_go(event); } });

    // The end of a drag is no touch of a pin, and no choice of a spot.
    box.addEventListener("click", function (event) {
      if (dragged) { event.preventDefault(); event.stopPropagation(); dragged = false; return; }
      if (!cross || event.target.closest("a")) { return; }
      event.preventDefault();
      if (!box.classList.contains("live")) { return; }  // not laid out yet
      if (!event.detail) { choose(); return; }  // by a key: where the cross stands
      var frame = canvas.getBoundingClientRect();
      spot.x = within((event.clientX - frame.left) / frame.width);
      spot.y = within((event.clientY - frame.top) / frame.height);
      put();
      choose();
    }, true);
    box.addEventListener("dragstart", function (event) { event.preventDefault(); });

    function start() {
      keys.hidden = false;
      box.classList.add("live");
      lay();
      if (cross) { box.focus(); }
    }
    new ResizeObserver(lay).observe(box);
    whole.addEventListener("load", start);
    whole.addEventListener("error", start);
    whole.src = sheet.src;
  });
})();
