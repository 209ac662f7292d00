// Sends photos one by one and says how far each has come; the arrow keys go to the photo before and after.
// Without this file all of them are sent together, and the links do the same.
(function () {
  "use strict";

  document.addEventListener("keydown", function (event) {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) { return; }
    if (event.target.closest("input, select, textarea")) { return; }
    var way = { ArrowLeft: "prev", ArrowRight: "next" }[event.key];
    var link = way && document.querySelector("nav.turn a[rel=" + way + "]");
    if (link && document.querySelector(".slide")) { link.click(); }
  });

  document.querySelectorAll("form[data-photos]").forEach(function (form) {
    var chosen = form.querySelector("input[type=file]");
    var list = form.querySelector(".sending");
    var button = form.querySelector("button.go");
    var words = button.textContent;
    var sent = new Set();  // Files that are in, so that sending once more goes on where it stopped.

    function line(file) {
      var item = document.createElement("li");
      var mark = document.createElement("span");
      var text = document.createElement("span");
      var bar = document.createElement("progress");
      text.textContent = file.name;
      bar.max = 1;
      bar.value = 0;
      bar.setAttribute("aria-label", file.name);
      item.append(mark, text, bar);
      list.append(item);
      return {
        far: function (part) { bar.value = part; },
        end: function (ink, symbol, told) {
          text.textContent = told;
          text.className = mark.className = ink;
          mark.innerHTML = '<svg class="m" aria-hidden="true"><use href="#' + symbol + '"/></svg>';
          bar.remove();
          item.append(document.createElement("span"));
        }
      };
    }

    function send(file, row) {
      return new Promise(function (done) {
        var data = new FormData(form);
        var call = new XMLHttpRequest();
        data.delete(chosen.name);
        data.append(chosen.name, file);
        call.open("POST", form.action);
        call.setRequestHeader("Accept", "application/json");
        call.upload.onprogress = function (event) {
          if (event.lengthComputable) { row.far(event.loaded / event.total); }
        };
        call.onload = function () {
          var said = null;
          try { said = JSON.parse(call.responseText); } catch (wrong) { said = null; }
          done(said || { lost: true, status: call.status });
        };
        call.onerror = call.ontimeout = function () { done({ lost: true, status: 0 }); };
        call.send(data);
      });
    }

    function tell(row, file, said) {
      var one = said.files && said.files[0];
      if (one && one.state !== "wrong") {
        sent.add(file);
        row.end("is-done", "ok", one.words);
        return one.state === "new" ? "in" : "here";
      }
      if (one) {
        sent.add(file);  // It would be refused again: only another file helps.
        row.end("is-stop", "no", one.words);
        return "wrong";
      }
      if (said.refused) {
        row.end("is-stop", "no", file.name + " is not sent. " + said.refused);
        return "stop";
      }
      row.end("is-stop", "no", file.name + (said.status
        ? " is not in: the site answered " + said.status + ". Load the page again, and choose it again."
        : " did not get there: the site does not answer. Send once more; those that are in are not doubled."));
      return said.status ? "stop" : "lost";
    }

    // To the page they were sent from, afresh: it may be the one that is open.
    function go(back) {
      var here = location.pathname;
      location.assign(back);
      if (back.split("#")[0] === here) { location.reload(); }
    }

    // Straight on where every photo was new; else by a link, so that what was said can be read first.
    function lead(back, all) {
      if (all) { return go(back); }
      var item = document.createElement("li");
      var link = document.createElement("a");
      link.href = back;
      link.textContent = "See those that are in";
      link.addEventListener("click", function (event) { event.preventDefault(); go(back); });
      item.append(document.createElement("span"), link, document.createElement("span"));
      list.append(item);
    }

    chosen.addEventListener("change", function () { sent.clear(); });

    form.addEventListener("submit", async function (event) {
      if (!chosen.files.length) { return; }  // The site says that none is chosen.
      event.preventDefault();
      var files = [...chosen.files].filter(function (file) { return !sent.has(file); });
      if (button.disabled || !files.length) { return; }
      button.disabled = true;
      list.hidden = false;
      list.replaceChildren();
      var all = true, back = "";
      for (var place = 0; place < files.length; place += 1) {
        button.textContent = "Sending " + (place + 1) + " of " + files.length;
        var row = line(files[place]);
        var said = await send(files[place], row);
        var end = tell(row, files[place], said);
        back = said.back || back;
        if (end !== "in") { all = false; }
        if (end === "stop" || end === "lost") { break; }
      }
      button.disabled = false;
      button.textContent = words;
      if (back) { lead(back, all); }
    });
  });
})();
