// Follows the plan: after each change the drawing is fetched again, keys undo and redo, a tapped pipe is found in the cut list.

import htmx from "htmx.org";

import { fetchScene, type Scene } from "./scene";
import type { View } from "./view3d/view";

function hasWebGL(): boolean {
  try {
    return Boolean(document.createElement("canvas").getContext("webgl2"));
  } catch {
    return false;
  }
}

export function followPlan(): void {
  const canvas = document.querySelector<HTMLCanvasElement>("#view");
  if (!canvas) return;
  keys();
  oncePerEnter();
  keepOpen();
  keepOrder();
  if (!hasWebGL()) return;
  void startView(canvas);
}

async function startView(canvas: HTMLCanvasElement): Promise<void> {
  const { View } = await import("./view3d");
  const board = document.querySelector<HTMLElement>("#board");
  const said = document.querySelector<HTMLElement>("#said");
  const view = new View(canvas, (text, mark) => {
    if (said) said.textContent = text;
    for (const row of document.querySelectorAll<HTMLElement>("[data-mark]")) {
      row.classList.toggle("picked", row.dataset["mark"] === mark && mark !== "");
    }
  });
  let shown = "";
  const follow = async (): Promise<void> => {
    const address = document.querySelector<HTMLElement>("#flat")?.dataset["scene"];
    if (!address || address === shown) return;
    shown = address;
    try {
      const scene = await fetchScene(address);
      if (shown !== address) return; // a later edit came in between
      board?.classList.add("live"); // first, so that the view has a size
      view.show(scene);
      fitSlider(scene);
      showBuild(view);
      if (board) board.dataset["drawn"] = address;
    } catch {
      board?.classList.remove("live"); // the drawing in the page takes over
    }
  };
  wireButtons(view);
  document.body.addEventListener("htmx:afterSettle", () => void follow());
  document.body.addEventListener("htmx:oobAfterSwap", () => void follow());
  await follow();
}

// A step of the build that is open is what the view shows.
function showBuild(view: View): void {
  const open = document.querySelector<HTMLElement>("#step-parts > details[open] details[data-later][open]");
  view.leaveOut(new Set(open?.dataset["later"]?.split(" ")));
}

function wireButtons(view: View): void {
  document.addEventListener("toggle", () => showBuild(view), true);
  document.querySelector<HTMLInputElement>("#film-shown")?.addEventListener("change", (event) => {
    view.showFilm((event.target as HTMLInputElement).checked);
  });
  document.querySelector("#view-home")?.addEventListener("click", () => view.home());
  slider()?.addEventListener("input", () => {
    sayAngle();
    view.open(slider()!.valueAsNumber);
  });
}

const slider = (): HTMLInputElement | null => document.querySelector("#lid-open");

// The slider goes as far as the lid does, and is away where nothing opens.
function fitSlider(scene: Scene): void {
  const most = Math.max(0, ...scene.lids.map((lid) => Math.round(lid.rest_deg)));
  document.querySelector("#board")?.classList.toggle("no-lid", most < 1);
  slider()?.setAttribute("max", String(most));
  sayAngle();
}

function sayAngle(): void {
  const angle = slider()?.value ?? "";
  slider()?.setAttribute("aria-valuetext", `${angle} degrees`);
  const said = document.querySelector("#lid-angle");
  if (said) said.textContent = `${angle}°`;
}

function keys(): void {
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const field = event.target as HTMLElement;
    if (field instanceof HTMLInputElement && field.type === "text" && field.value !== field.defaultValue) return;
    const key = event.key.toLowerCase();
    const button = key === "z" && !event.shiftKey ? "#undo" : key === "y" || (key === "z" && event.shiftKey) ? "#redo" : "";
    if (!button) return;
    const found = document.querySelector<HTMLButtonElement>(button);
    if (!found || found.disabled) return;
    event.preventDefault();
    found.click();
  });
}

// Enter both changes a field and submits its form; one of the two is enough.
function oncePerEnter(): void {
  document.addEventListener("keydown", (event) => {
    const field = event.target;
    if (event.key !== "Enter" || !(field instanceof HTMLInputElement) || field.type !== "text") return;
    if (!field.form?.getAttribute("hx-trigger")?.startsWith("change")) return;
    event.preventDefault();
    if (field.value !== field.defaultValue) field.dispatchEvent(new Event("change", { bubbles: true }));
  });
}

// Answers may come back out of order. Each holds what has changed since the state it was asked from; where another state
// is shown by then, an older answer is put aside, and what is still missing is asked for.
function keepOrder(): void {
  const shown = (): string => document.querySelector<HTMLInputElement>("#state")?.value ?? "";
  const version = (state: string): number => Number(state.split("-").pop());
  let catchingUp = false;
  document.body.addEventListener("htmx:beforeSwap", (event) => {
    const detail = (event as CustomEvent).detail as {
      shouldSwap: boolean;
      serverResponse: string;
      requestConfig: { parameters: { state?: string } };
    };
    const from = detail.requestConfig.parameters.state;
    const now = shown();
    if (!from || from === now || catchingUp) return;
    const to = /name="state" value="([^"]*)"/.exec(detail.serverResponse)?.[1] ?? from;
    // a bad value has changed nothing in the plan: what is told about it belongs where it was typed
    detail.shouldSwap = version(to) >= version(now) || detail.serverResponse.includes("wrong-why");
    catchingUp = true;
    const address = `${location.pathname.replace(/\/$/, "")}/rest`;
    const done = (): unknown => (catchingUp = false);
    setTimeout(() => void htmx.ajax("get", address, { swap: "none", values: { state: now } }).then(done, done));
  });
}

// What was opened in a piece stays open in the one that takes its place.
function keepOpen(): void {
  const nameOf = (fold: HTMLDetailsElement): string => fold.querySelector("summary")?.textContent ?? "";
  document.body.addEventListener("htmx:oobBeforeSwap", (event) => {
    const { target, fragment } = (event as CustomEvent).detail as { target: Element; fragment: ParentNode };
    const open = new Set([...target.querySelectorAll<HTMLDetailsElement>("details[open]")].map(nameOf));
    for (const fold of fragment.querySelectorAll("details")) fold.open ||= open.has(nameOf(fold));
  });
}
