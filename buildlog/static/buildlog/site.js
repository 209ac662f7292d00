// Says plainly when the site does not answer; nothing else depends on this file.
(function () {
  "use strict";
  function say(text) {
    var place = document.getElementById("said");
    if (!place) { return; }
    var note = document.createElement("div");
    var words = document.createElement("b");
    note.className = "note stop";
    words.textContent = text;
    note.appendChild(words);
    place.replaceChildren(note);
    place.scrollIntoView({ block: "nearest" });
  }
  document.addEventListener("htmx:sendError", function () {
    say("The site does not answer. Is it still running? What you typed is still here: start it again and send once more.");
  });
  document.addEventListener("htmx:responseError", function (event) {
    var status = event.detail.xhr.status;
    if (status === 403) {
      say("This page has been open too long, or somebody signed in or out in another tab. Load it again before you go on.");
    } else if (status === 404) {
      say("That is not there any more, or it is not yours to see. Go back to the list and look again.");
    } else {
      say("That went wrong on the site (" + status + "), and nothing was stored. What you typed is still here.");
    }
  });
})();
