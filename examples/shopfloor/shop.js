// A comfort: an answer that didn't get through is kept in the page, said to be NOT SAVED, and sent again.
// Without this script the browser says so itself, and Back has what was typed.
"use strict";
document.addEventListener("submit", function (event) {
  var form = event.target, button = event.submitter;
  if (form.method !== "post" || !window.fetch) return;
  event.preventDefault();
  var body = new URLSearchParams(new FormData(form, button && button.name ? button : undefined));
  var note = document.createElement("p");
  note.className = "notsaved"; note.setAttribute("role", "alert");
  function send() {
    fetch(form.action, {method: "POST", body: body, credentials: "same-origin"}).then(function (answer) {
      if (answer.redirected || answer.url !== form.action) {
        var to = answer.url + (form.id ? "#" + form.id : "");
        note.remove();
        if (to.split("#")[0] === location.href.split("#")[0]) { history.replaceState(null, "", to); location.reload(); } else { location.assign(to); }
        return;
      }
      return answer.text().then(function (text) {
        var next = new DOMParser().parseFromString(text, "text/html");
        document.title = next.title;
        document.body.replaceWith(document.adoptNode(next.body));
        scrollTo(0, 0);
      });
    }).catch(function () {
      note.textContent = "NOT SAVED: no connection. Sent again until it is.";
      document.body.appendChild(note);
      setTimeout(send, 2000);
    });
  }
  send();
});
