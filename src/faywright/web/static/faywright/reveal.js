// Shows what is typed into a password field, and hides it again.
for (const button of document.querySelectorAll("button[data-reveal]")) {
  const field = document.getElementById(button.dataset.reveal);
  const show = (shown) => {
    field.type = shown ? "text" : "password";
    button.textContent = shown ? "Hide" : "Show";
    button.setAttribute("aria-label", button.textContent + " " + field.labels[0].textContent);
  };
  button.hidden = false;
  show(false);
  button.addEventListener("click", () => {
    show(field.type === "password");
    field.focus();
  });
  // Sent hidden, so that the browser does not offer it where other texts are typed.
  field.form.addEventListener("submit", () => show(false));
}
