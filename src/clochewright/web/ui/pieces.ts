// How the pieces of an answer take their place. What a shut step holds comes a moment after an edit, or as soon as the step
// is opened: until then it is out of date (data-due), and out of sight.

import htmx from "htmx.org";

import { UNANSWERED } from "./answers";
import { carryTyping, isBeingTyped, keepTyping } from "./typing";

export function takePieces(): void {
  keepTyping();
  document.body.addEventListener("htmx:configRequest", (event) => {
    const { verb, parameters } = (event as CustomEvent).detail as { verb: string; parameters: Record<string, string> };
    if (!parameters["state"]) return;
    parameters["due"] = stepsOf(".body[data-due]");
    if (verb === "post") parameters["shut"] = stepsOf(".step > details:not([open])");
  });
  document.body.addEventListener("htmx:oobBeforeSwap", (event) => {
    const detail = (event as CustomEvent).detail as { target: HTMLElement; fragment: ParentNode; shouldSwap: boolean };
    const { target, fragment } = detail;
    const fresh = fragment.firstElementChild as HTMLElement;
    const due = target.id === "progress" && fresh.dataset["due"];
    for (const id of due ? due.split(" ") : []) document.getElementById(id)?.toggleAttribute("data-due", true);
    if (/^(history|fields?-|row-)/.test(target.id) && takeValues(target, fresh)) {
      detail.shouldSwap = false;
      return;
    }
    carryTyping(target, fragment);
    keepOpen(target, fragment);
    // htmx calls two events on each of the hundreds of elements that a body lets go, which nobody hears
    if (target.id.startsWith("body-")) target.replaceChildren();
  });
  document.body.addEventListener("htmx:afterSettle", askForDue);
  followCuts();
  document.addEventListener("toggle", askForDue, true);
}

// The cut list comes ahead of an edit's other pieces. Where none follow, the one before is shown again.
let cutsBefore: string | null = null;

export function showCuts(html: string): void {
  const table = document.querySelector(".cutlist");
  if (!table) return;
  cutsBefore ??= table.outerHTML;
  table.outerHTML = html;
}

function followCuts(): void {
  document.body.addEventListener("htmx:afterSettle", () => (cutsBefore = null));
  for (const name of ["htmx:sendAbort", ...UNANSWERED]) {
    document.body.addEventListener(name, () => {
      if (cutsBefore !== null) document.querySelector(".cutlist")!.outerHTML = cutsBefore;
      cutsBefore = null;
    });
  }
}

// The keys of the steps that these are in, as a step's id has it: step-lid.
function stepsOf(selector: string): string {
  const ids = [...document.querySelectorAll(selector)].map((found) => found.closest(".step")?.id ?? "");
  return ids.map((id) => id.slice("step-".length)).join(" ");
}

function askForDue(): void {
  if (document.querySelector(".step > details[open] > * > .body[data-due]")) htmx.trigger("#progress", "due");
}

// What was opened in a piece stays open in the one that takes its place.
function keepOpen(target: Element, fragment: ParentNode): void {
  const nameOf = (fold: HTMLDetailsElement): string => fold.querySelector("summary")?.textContent ?? "";
  const open = new Set([...target.querySelectorAll<HTMLDetailsElement>("details[open]")].map(nameOf));
  for (const fold of fragment.querySelectorAll("details")) fold.open ||= open.has(nameOf(fold));
}

// A form that differs in nothing but what stands in its fields stays and takes that over. True if this was so. A browser
// looks through all fields of the page again wherever one comes or goes, which takes it longer than the whole edit.
function takeValues(form: Element, fresh: Element): boolean {
  const fields = "input, option, button";
  const now = form.querySelectorAll(fields);
  const then = fresh.querySelectorAll(fields);
  now.forEach((field, n) => {
    for (const name of ["value", "disabled", "selected"]) {
      const value = then[n]?.getAttribute(name) ?? null;
      if (value === null) field.removeAttribute(name);
      else field.setAttribute(name, value);
    }
  });
  if (!atRest(form).isEqualNode(fresh)) return false; // it is replaced, whatever was taken over
  for (const field of now) {
    if (field instanceof HTMLOptionElement) field.selected = field.defaultSelected;
    else if (field instanceof HTMLInputElement && field.value !== field.defaultValue && !isBeingTyped(field)) field.value = field.defaultValue;
  }
  return true;
}

// As it stands without what htmx marks it with while it is asking.
function atRest(form: Element): Element {
  const copy = form.cloneNode(true) as Element;
  for (const marked of [copy, ...copy.querySelectorAll("form")]) {
    marked.classList.remove("htmx-request", "htmx-swapping");
    if (!marked.classList.length) marked.removeAttribute("class");
  }
  return copy;
}
