// One time or the other: a touch on a rounded one clears what was typed, and typing takes the touch back.
(function () {
  "use strict";
  var typed = document.querySelector("input[name=minutes]");
  var touched = Array.from(document.querySelectorAll("input[name=quick]"));
  if (!typed || !touched.length) { return; }
  touched.forEach(function (choice) {
    choice.addEventListener("change", function () { if (choice.value) { typed.value = ""; } });
  });
  typed.addEventListener("input", function () {
    touched.forEach(function (choice) { choice.checked = !choice.value; });
  });
})();
