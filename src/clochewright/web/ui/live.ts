// Follows the plan: after each change the drawing is fetched again, keys undo and redo, a tapped pipe is found in the cut list.

import htmx from "htmx.org";

import { editsFirst, keepOrder, takeScenes, tellUnanswered, UNANSWERED, type SceneAhead } from "./answers";
import { showCuts, takePieces } from "./pieces";
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
  takePieces();
  keepOrder();
  editsFirst();
  tellUnanswered();
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
  let ahead: SceneAhead | null = null;
  const show = async (address: string, found: () => Scene | Promise<Scene>): Promise<void> => {
    if (!address || address === shown) return;
    shown = address;
    try {
      const scene = await found();
      if (shown !== address) return; // a later edit came in between
      board?.classList.add("live"); // first, so that the view has a size
      view.show(scene, laterInBuild());
      fitSlider(scene);
      if (board) board.dataset["drawn"] = address;
    } catch {
      board?.classList.remove("live"); // the drawing in the page takes over
    }
  };
  const follow = (): void => {
    const address = document.querySelector<HTMLElement>("#flat")?.dataset["scene"] ?? "";
    void show(address, () => (ahead?.of === address ? ahead : fetchScene(address)));
  };
  const live = (): boolean => board?.classList.contains("live") ?? false;
  const expect = (): boolean => {
    if (live()) view.sharpenIn(600);
    return live();
  };
  takeScenes(expect, (scene, now) => {
    ahead = scene;
    if (!now || !live()) return;
    showCuts(scene.cutlist);
    void show(scene.of, () => scene);
  });
  wireButtons(view);
  // where no pieces came after a scene, the one before is shown again
  for (const name of ["htmx:afterSettle", ...UNANSWERED]) document.body.addEventListener(name, follow);
  follow();
}

// A step of the build that is open is what the view shows: these pieces come after it.
function laterInBuild(): Set<string> {
  const open = document.querySelector<HTMLElement>("#step-parts > details[open] details[data-later][open]");
  return new Set(open?.dataset["later"]?.split(" "));
}

function wireButtons(view: View): void {
  document.addEventListener("toggle", () => view.leaveOut(laterInBuild()), true);
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
