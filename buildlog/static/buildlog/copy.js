// Copies the plain text of a sum; without this file the link beside it opens the text, to be copied by hand.
(function () {
  "use strict";
  function show() {
    document.querySelectorAll("button[data-copies][hidden]").forEach(function (button) { button.hidden = false; });
  }
  function byHand(text) {
    var area = document.createElement("textarea");
    area.value = text;
    area.readOnly = true;
    area.className = "vh";
    document.body.appendChild(area);
    area.select();
    var done = document.execCommand("copy");
    area.remove();
    return done ? Promise.resolve() : Promise.reject(new Error("not copied"));
  }
  function copy(text) {
    // Browsers keep the clipboard from pages that come over plain HTTP from another machine.
    return navigator.clipboard && window.isSecureContext ? navigator.clipboard.writeText(text) : byHand(text);
  }
  document.addEventListener("click", function (event) {
    var button = event.target.closest("button[data-copies]");
    if (!button) { return; }
    var said = button.parentNode.querySelector("[role=status]");
    said.textContent = "";
    fetch(button.dataset.copies, { credentials: "same-origin" })
      .then(function (answer) {
        if (!answer.ok) { throw new Error("not there"); }
        return answer.text();
      })
      .then(copy)
      .then(function () { said.textContent = "Copied."; })
      .catch(function () { said.textContent = "That could not be copied: open the text and copy it from there."; });
  });
  document.addEventListener("htmx:afterSwap", show);
  show();
})();
