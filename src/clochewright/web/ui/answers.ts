// How answers to edits are taken: in the order of the plan's versions, the scene ahead of the pieces, and no question
// in between about what is still being worked out.

import htmx from "htmx.org";

import type { Scene } from "./scene";

interface Asking {
  elt: Element;
  xhr: XMLHttpRequest;
  successful?: boolean;
  requestConfig: { verb: string; parameters: { state?: string } };
}

// A scene and a cut list that came ahead of an answer's pieces; `of` is the address that those have the scene under.
export type SceneAhead = Scene & { of: string; cutlist: string };

// An edit that went out and of which no pieces came back.
export const UNANSWERED = ["htmx:sendError", "htmx:responseError"];

const shownState = (): string => document.querySelector<HTMLInputElement>("#state")?.value ?? "";
const versionOf = (state: string): number => Number(state.split("-").pop());
interface Answer extends Asking {
  shouldSwap: boolean;
  serverResponse: string;
}

const told = (event: Event): Asking => (event as CustomEvent<Asking>).detail;

// Has the scene sent ahead of an edit's pieces, and passes it on as soon as it is there: `now` says that the answer is to
// what is shown, so that it may be drawn while the rest is on its way.
export function takeScenes(wanted: () => boolean, take: (scene: SceneAhead, now: boolean) => void): void {
  document.body.addEventListener("htmx:configRequest", (event) => {
    const { verb, parameters } = (event as CustomEvent).detail as { verb: string; parameters: Record<string, string> };
    if (verb === "post" && parameters["state"] && wanted()) parameters["view"] = "yes";
  });
  document.body.addEventListener("htmx:beforeSend", (event) => {
    const { xhr, requestConfig } = told(event);
    const look = (): void => {
      if (xhr.readyState < XMLHttpRequest.LOADING) return;
      const scene = sceneIn(xhr.responseText);
      if (!scene) return;
      xhr.removeEventListener("readystatechange", look);
      take(scene, requestConfig.parameters.state === shownState());
    };
    xhr.addEventListener("readystatechange", look);
  });
  document.body.addEventListener("htmx:beforeSwap", (event) => {
    const detail = (event as CustomEvent<Answer>).detail; // only pieces are put in their place
    if (detail.serverResponse.startsWith(AHEAD)) detail.serverResponse = detail.serverResponse.slice(endOf(detail.serverResponse));
  });
}

const AHEAD = "<script", END = "</script>";
const endOf = (answer: string): number => answer.indexOf(END) + END.length;

function sceneIn(answer: string): SceneAhead | null {
  if (!answer.startsWith(AHEAD) || !answer.includes(END)) return null;
  return JSON.parse(answer.slice(answer.indexOf(">") + 1, answer.indexOf(END))) as SceneAhead;
}

// Answers may come back out of order. Each holds what has changed since the state it was asked from; where another state
// is shown by then, an older answer is put aside, and what is still missing is asked for.
export function keepOrder(): void {
  let catchingUp = false;
  document.body.addEventListener("htmx:beforeSwap", (event) => {
    const detail = (event as CustomEvent<Answer>).detail;
    const from = detail.requestConfig.parameters.state;
    const now = shownState();
    if (!from || from === now || catchingUp) return;
    const to = /name="state" value="([^"]*)"/.exec(detail.serverResponse)?.[1] ?? from;
    // a bad value has changed nothing in the plan: what is told about it belongs where it was typed
    detail.shouldSwap = versionOf(to) >= versionOf(now) || detail.serverResponse.includes("wrong-why");
    catchingUp = true;
    const address = `${location.pathname.replace(/\/$/, "")}/rest`;
    const done = (): unknown => (catchingUp = false);
    setTimeout(() => void htmx.ajax("get", address, { swap: "none", values: { state: now } }).then(done, done));
  });
}

// Where the program behind the page gives no answer, it says so beside the drawing until the next change is kept.
export function tellUnanswered(): void {
  const notice = document.querySelector<HTMLElement>("#unanswered");
  if (!notice) return;
  const isChange = (event: Event): boolean => told(event).requestConfig.verb === "post";
  for (const name of UNANSWERED) {
    document.body.addEventListener(name, (event) => isChange(event) && notice.toggleAttribute("hidden", false));
  }
  document.body.addEventListener("htmx:afterRequest", (event) => {
    if (isChange(event) && told(event).successful) notice.toggleAttribute("hidden", true);
  });
}

// Whoever edits comes first: how far the bench is, is not asked while an edit is on its way. Its answer brings that anyway;
// where none comes, it is asked again.
export function editsFirst(): void {
  const edits = new Set<XMLHttpRequest>();
  document.body.addEventListener("htmx:beforeRequest", (event) => {
    const { elt, xhr, requestConfig } = told(event);
    if (elt.id === "progress" && edits.size) event.preventDefault();
    if (requestConfig.verb !== "post") return;
    edits.add(xhr);
    htmx.trigger("#progress", "htmx:abort");
  });
  document.body.addEventListener("htmx:afterRequest", (event) => {
    const { xhr, successful } = told(event);
    if (edits.delete(xhr) && !edits.size && !successful) htmx.trigger("#progress", "unanswered");
  });
}
