// What is typed in the forms of a page, carried over the reload that brings a new version. It is kept for this tab.

const NAME = "dewbook-typed";

/** @returns {HTMLFormElement[]} */
const forms = () => [...document.querySelectorAll("#desk form")];

/** @param {HTMLFormElement} form */
const controls = (form) => [...form.elements].filter((one) => one.name && one.type !== "password");

const here = () => location.pathname + location.search;

/** Keep what the page's forms hold, for the same address in this tab. */
export function putAside() {
  const held = forms().map((form) => ({
    action: form.getAttribute("action"),
    values: controls(form).map(({ name, type, value, checked }) => ({ name, type, value, checked })),
  }));
  if (held.length) sessionStorage.setItem(NAME, JSON.stringify({ address: here(), forms: held }));
}

/** Put back what was kept, into the fields of the same names; each one changed tells so, as if it had been typed. */
export function bringBack() {
  const kept = JSON.parse(sessionStorage.getItem(NAME) ?? "null");
  if (!kept || (kept.address === here() && !forms().length)) return; // the page has not come yet
  sessionStorage.removeItem(NAME);
  if (kept.address !== here()) return;
  for (const { action, values } of kept.forms) {
    const form = forms().find((one) => one.getAttribute("action") === action);
    const open = form ? controls(form) : [];
    for (const value of values) {
      const place = open.findIndex((one) => isFor(one, value));
      if (place >= 0) fill(open.splice(place, 1)[0], value);
    }
  }
}

const isBox = (/** @type {{type: string}} */ { type }) => type === "checkbox" || type === "radio";

/**
 * Boxes of one name are told apart by their value, other controls by their order.
 * @param {any} control
 * @param {any} kept
 */
const isFor = (control, kept) =>
  control.name === kept.name && isBox(control) === isBox(kept) && (!isBox(kept) || control.value === kept.value);

/**
 * @param {any} control
 * @param {any} kept
 */
function fill(control, kept) {
  const what = isBox(kept) ? "checked" : "value";
  if (control[what] === kept[what]) return;
  control[what] = kept[what];
  for (const happening of ["input", "change"]) control.dispatchEvent(new Event(happening, { bubbles: true }));
}
