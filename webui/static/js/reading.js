// After a page of the desk was put in: say where we are to those who listen, and start at what needs a look.

/** Focus the first fault, else what asks for it, else the page itself, from its top. */
export function startReading() {
  const desk = document.getElementById("desk");
  const first = desk?.querySelector("[aria-invalid='true'], [role='alert'], [autofocus]") ?? desk;
  if (first instanceof HTMLElement) {
    if (first !== desk && !first.matches("input, select, textarea, button, a")) first.tabIndex = -1;
    first.focus({ preventScroll: first === desk });
  }
  if (first === desk) scrollTo(0, 0);
}
