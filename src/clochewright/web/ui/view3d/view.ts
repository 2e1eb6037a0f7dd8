// The three-dimensional view: turn, pan and zoom by mouse, touch and keyboard; tap a pipe to hear what it is.
// Bodies are groups of their own, so that later steps can open a lid, play build steps or bend what is loaded.

import {
  AmbientLight,
  Box3,
  DirectionalLight,
  Group,
  InstancedMesh,
  Mesh,
  PerspectiveCamera,
  Raycaster,
  Scene as Stage,
  Vector2,
  Vector3,
  WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";

import type { Point, Scene } from "../scene";
import { bedGroup, filmMesh, frameGroups, isShared, outlineOf, toView, type Part } from "./parts";

const CALM = matchMedia("(prefers-reduced-motion: reduce)");

function isDrawnBySoftware(): boolean {
  const context = document.createElement("canvas").getContext("webgl2");
  const told = context?.getExtension("WEBGL_debug_renderer_info");
  const name: unknown = told ? context?.getParameter(told.UNMASKED_RENDERER_WEBGL) : "";
  context?.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|software/i.test(String(name));
}

export class View {
  private readonly renderer: WebGLRenderer;
  private readonly stage = new Stage();
  private readonly camera = new PerspectiveCamera(32, 1, 0.05, 100);
  private readonly controls: OrbitControls;
  private pipes = new Map<string, Part>();
  private fittings: Part[] = [];
  private bodies = new Map<string, Group>();
  private frame = new Group();
  private films: Mesh[] = [];
  private filmShown = true;
  private scene: Scene | null = null;
  private opened_deg = 0;
  private picked: Part | null = null;
  private outline: Vector3[] = [new Vector3()];
  private moved = false;
  private pressed = [0, 0] as [number, number];
  private asked = 0; // for the next picture
  private later = 0;
  private readonly fine: number;
  private readonly coarse: number; // where the processor draws, a change is shown coarsely at once and sharply when still

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly said: (text: string, mark: string) => void,
  ) {
    // where the processor itself draws, smooth edges take longer than they are worth
    const slow = isDrawnBySoftware();
    this.renderer = new WebGLRenderer({ canvas, antialias: !slow, alpha: true });
    this.fine = slow ? 1 : Math.min(devicePixelRatio, 2);
    this.coarse = slow ? 0.5 : this.fine;
    this.renderer.setPixelRatio(this.fine);
    this.stage.add(new AmbientLight(0xffffff, 1.7));
    const sun = new DirectionalLight(0xffffff, 1.9);
    sun.position.set(-2, 4, 3);
    this.stage.add(sun, this.frame);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    this.controls.maxPolarAngle = Math.PI / 2 - 0.02;
    this.controls.addEventListener("change", () => this.paint());
    this.controls.addEventListener("start", () => (this.moved = true));
    new ResizeObserver(() => (this.moved ? this.resize() : this.home())).observe(canvas);
    canvas.addEventListener("pointerdown", (event) => (this.pressed = [event.clientX, event.clientY]));
    canvas.addEventListener("click", (event) => this.pickAt(event));
    canvas.addEventListener("keydown", (event) => this.key(event));
    canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
    CALM.addEventListener("change", () => this.paint());
  }

  // Shows another frame, without the pieces of these ids, and draws it at once: the graphics card, or the processor in its
  // place, is then done by the time that the page is.
  show(scene: Scene, leftOut: Set<string>): void {
    this.stage.remove(this.frame);
    this.frame.traverse((part) => {
      if (part instanceof InstancedMesh) part.dispose();
      if (part instanceof Mesh && !isShared(part.geometry)) part.geometry.dispose();
    });
    this.picked = null;
    this.frame = new Group();
    ({ bodies: this.bodies, pipes: this.pipes, fittings: this.fittings } = frameGroups(scene));
    this.films = [...new Set(scene.film.map((face) => face.body))].map((name) => {
      const film = filmMesh(scene.film.filter((face) => face.body === name));
      this.bodies.get(name)?.add(film);
      return film;
    });
    this.frame.add(...this.bodies.values(), bedGroup(scene.bed));
    this.stage.add(this.frame);
    this.scene = scene;
    this.showFilm(this.filmShown);
    this.leaveOut(leftOut);
    this.open(this.opened_deg);
    this.paintNow();
    this.renderer.getContext().flush();
  }

  showFilm(shown: boolean): void {
    this.filmShown = shown;
    for (const film of this.films) film.visible = shown;
    this.paint();
  }

  // Opens every lid by so much, each no further than where it comes to rest. A picture nobody has turned keeps it whole.
  open(angle_deg: number): void {
    this.opened_deg = angle_deg;
    if (!this.scene) return;
    for (const lid of this.scene.lids) this.turnBody(lid.body, lid.through, lid.along, Math.min(angle_deg, lid.rest_deg));
    this.outline = outlineOf(this.scene, this.bodies);
    if (this.moved) this.paint();
    else this.home();
  }

  // Turns a body about a line; a lid that opens.
  turnBody(name: string, through: Point, along: Point, angle_deg: number): void {
    const body = this.bodies.get(name);
    if (!body) return;
    const axis = toView(along).normalize();
    const centre = toView(through);
    body.quaternion.setFromAxisAngle(axis, (angle_deg * Math.PI) / 180);
    body.position.copy(centre).sub(centre.clone().applyQuaternion(body.quaternion));
    this.paint();
  }

  // Leaves out the pieces of these ids, and the film with them: a step of the build, as far as it has come.
  leaveOut(ids: Set<string>): void {
    for (const part of [...this.pipes.values(), ...this.fittings]) part.show(!ids.has(part.id));
    for (const film of this.films) film.visible = this.filmShown && !ids.size;
    this.paint();
  }

  pick(id: string): void {
    this.picked?.light(false);
    this.picked = this.pipes.get(id) ?? null;
    this.picked?.light(true);
    if (this.picked) this.said(this.picked.said, this.picked.mark);
    this.paint();
  }

  home(): void {
    this.moved = false;
    const box = new Box3().setFromPoints(this.outline);
    const size = box.getSize(new Vector3()).length();
    box.getCenter(this.controls.target);
    this.camera.position.copy(this.controls.target).add(new Vector3(-0.75, 0.62, 1.05).multiplyScalar(size * 1.15));
    this.camera.near = size / 100;
    this.camera.far = size * 20;
    this.controls.minDistance = size * 0.2;
    this.controls.maxDistance = size * 5;
    this.resize();
    this.fit();
    this.controls.update();
    this.paint();
  }

  // Comes near enough for frame and bed to fill the picture, its lower edge left free for the buttons.
  private fit(): void {
    for (let turn = 0; turn < 4; turn++) {
      this.camera.lookAt(this.controls.target);
      this.camera.updateMatrixWorld();
      const seen = new Box3().setFromPoints(this.outline.map((point) => point.clone().project(this.camera)));
      const offset = this.camera.position.clone().sub(this.controls.target);
      const half = offset.length() * Math.tan((this.camera.fov * Math.PI) / 360);
      const aside = ((seen.min.x + seen.max.x) / 2) * half * this.camera.aspect;
      const above = ((seen.min.y + seen.max.y) / 2 - 0.1) * half;
      this.controls.target.addScaledVector(new Vector3().setFromMatrixColumn(this.camera.matrixWorld, 0), aside);
      this.controls.target.addScaledVector(new Vector3().setFromMatrixColumn(this.camera.matrixWorld, 1), above);
      const reach = Math.max((seen.max.x - seen.min.x) / 1.84, (seen.max.y - seen.min.y) / 1.6);
      this.camera.position.copy(this.controls.target).add(offset.multiplyScalar(reach));
    }
  }

  private pickAt(event: MouseEvent): void {
    const [x, y] = this.pressed;
    if (Math.hypot(event.clientX - x, event.clientY - y) > 8) return; // the frame was turned, no part was meant
    const box = this.canvas.getBoundingClientRect();
    const at = new Vector2(((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2);
    const ray = new Raycaster();
    ray.setFromCamera(at, this.camera);
    for (const hit of ray.intersectObjects([...this.bodies.values()], true)) {
      const part = (hit.object.userData["parts"] as Part[] | undefined)?.[hit.instanceId ?? 0];
      if (!part?.shown) continue;
      if (this.pipes.has(part.id)) this.pick(part.id);
      else this.said(part.said, "");
      return;
    }
  }

  private key(event: KeyboardEvent): void {
    const step = 0.12;
    const offset = this.camera.position.clone().sub(this.controls.target);
    const turn = (angle: number) => offset.applyAxisAngle(new Vector3(0, 1, 0), angle);
    const moves: Record<string, () => void> = {
      ArrowLeft: () => turn(-step),
      ArrowRight: () => turn(step),
      ArrowUp: () => (offset.y += offset.length() * step),
      ArrowDown: () => (offset.y = Math.max(0.05, offset.y - offset.length() * step)),
      "+": () => offset.multiplyScalar(0.88),
      "=": () => offset.multiplyScalar(0.88),
      "-": () => offset.multiplyScalar(1.14),
    };
    if (event.key === "Home") this.home();
    else if (event.key === "Tab" || !(event.key in moves)) {
      if (event.key === "n" || event.key === "p") this.next(event.key === "n" ? 1 : -1);
      return;
    } else {
      this.moved = true;
      moves[event.key]!();
      this.camera.position.copy(this.controls.target).add(offset);
      this.controls.update();
    }
    event.preventDefault();
    this.paint();
  }

  // n and p walk through the pipes, so that what a tap tells can be reached without a pointer.
  private next(by: number): void {
    const ids = [...this.pipes.keys()];
    if (!ids.length) return;
    const now = this.picked ? ids.indexOf(this.picked.id) : -1;
    this.pick(ids[(now + by + ids.length) % ids.length]!);
  }

  private resize(): void {
    const { clientWidth: width, clientHeight: height } = this.canvas;
    if (!width || !height) return;
    this.renderer.setSize(width, height, false);
    this.camera.aspect = width / height;
    // a narrow screen sees as much of the bed as a wide one
    this.camera.fov = width < height * 1.3 ? 46 : 32;
    this.camera.updateProjectionMatrix();
    this.paint();
  }

  private draw(ratio: number): void {
    if (this.renderer.getPixelRatio() !== ratio) this.renderer.setPixelRatio(ratio);
    this.renderer.render(this.stage, this.camera);
  }

  private paint(): void {
    this.asked ||= requestAnimationFrame(() => this.paintNow());
  }

  private paintNow(): void {
    cancelAnimationFrame(this.asked);
    this.asked = 0;
    this.draw(this.coarse);
    this.sharpenIn(250);
  }

  // Draws it sharply once so long has gone by with nothing new [ms]; where something is on its way, that comes first.
  sharpenIn(wait: number): void {
    if (this.coarse === this.fine) return;
    clearTimeout(this.later);
    this.later = setTimeout(() => this.draw(this.fine), wait);
  }
}
