// Meshes for pipes, fittings, film, bed and ground, in their true size.

import {
  BufferGeometry,
  CatmullRomCurve3,
  CircleGeometry,
  Color,
  CylinderGeometry,
  DoubleSide,
  Float32BufferAttribute,
  Group,
  InstancedMesh,
  Matrix4,
  Mesh,
  MeshLambertMaterial,
  BoxGeometry,
  Quaternion,
  SphereGeometry,
  TubeGeometry,
  Vector3,
  type Material,
} from "three";

import type { Bed, Face, FittingPart, PipePart, Point, Scene } from "../scene";

const UP = new Vector3(0, 1, 0);
const ROUND = 14; // facets of a pipe: smooth enough at the size it is seen

// The scene's axes are the bed's (z up); the view's are its own (y up).
export const toView = ([x, y, z]: Point): Vector3 => new Vector3(x, z, -y);

const colours = { pipe: new Color(0xffffff), picked: new Color(0xa23f22), fitting: new Color(0x7f9a63) };
const materials = {
  pipe: new MeshLambertMaterial({ color: colours.pipe }),
  picked: new MeshLambertMaterial({ color: colours.picked }),
  film: new MeshLambertMaterial({ color: 0xcfe0e4, transparent: true, opacity: 0.3, side: DoubleSide, depthWrite: false }),
  bed: new MeshLambertMaterial({ color: 0xd8c3a0 }),
  soil: new MeshLambertMaterial({ color: 0x6d5642 }),
  ground: new MeshLambertMaterial({ color: 0xcbd6b8 }),
};

// One shape for every rod and one for every ball, and all copies of it in a body drawn in one go: a frame of a hundred
// fittings takes a phone no longer than one of ten.
const ROD = new CylinderGeometry(1, 1, 1, ROUND);
const BALL = new SphereGeometry(1, ROUND, 10);
const NOWHERE = new Matrix4().makeScale(0, 0, 0);
export const isShared = (shape: BufferGeometry): boolean => shape === ROD || shape === BALL;

// A pipe or a fitting, as it is drawn: in copies of a rod and a ball, or as a tube of its own where it is bent.
export class Part {
  private readonly copies: [InstancedMesh, number, Matrix4][] = [];
  private tube: Mesh | null = null;
  shown = true;

  constructor(
    readonly id: string,
    readonly said: string,
    readonly mark: string,
    private readonly colour: Color,
  ) {}

  drawnBy(many: InstancedMesh, at: number, place: Matrix4): void {
    this.copies.push([many, at, place]);
    many.setMatrixAt(at, place);
    many.setColorAt(at, this.colour);
  }

  drawnAs(tube: Mesh): void {
    this.tube = tube;
  }

  show(shown: boolean): void {
    if (shown === this.shown) return;
    this.shown = shown;
    if (this.tube) this.tube.visible = shown;
    for (const [many, at, place] of this.copies) {
      many.setMatrixAt(at, shown ? place : NOWHERE);
      many.instanceMatrix.needsUpdate = true;
      many.boundingSphere = null; // it was about what is shown
    }
  }

  light(picked: boolean): void {
    if (this.tube) this.tube.material = picked ? materials.picked : materials.pipe;
    for (const [many, at] of this.copies) {
      many.setColorAt(at, picked ? colours.picked : this.colour);
      many.instanceColor!.needsUpdate = true;
    }
  }
}

// The places of one shape in a body, until all are known.
class Copies {
  private readonly places: [Part, Matrix4][] = [];

  add(part: Part, place: Matrix4): void {
    this.places.push([part, place]);
  }

  drawn(shape: BufferGeometry): InstancedMesh {
    const many = new InstancedMesh(shape, materials.pipe, this.places.length);
    many.frustumCulled = false; // the frame is in sight but for a corner
    this.places.forEach(([part, place], at) => part.drawnBy(many, at, place));
    many.userData["parts"] = this.places.map(([part]) => part);
    return many;
  }
}

function rodAt(start: Vector3, end: Vector3, radius: number): Matrix4 {
  const along = end.clone().sub(start);
  const middle = start.clone().addScaledVector(along, 0.5);
  const size = new Vector3(radius, along.length(), radius);
  return new Matrix4().compose(middle, new Quaternion().setFromUnitVectors(UP, along.normalize()), size);
}

// The pipes and fittings of a scene as one group to each body, and each of them by its id, pipes first.
export function frameGroups(scene: Scene): { bodies: Map<string, Group>; pipes: Map<string, Part>; fittings: Part[] } {
  const bodies = new Map<string, { group: Group; rods: Copies; balls: Copies }>();
  const bodyOf = (name: string) => {
    const known = bodies.get(name) ?? { group: new Group(), rods: new Copies(), balls: new Copies() };
    bodies.set(name, known);
    return known;
  };
  const pipes = new Map(scene.pipes.map((pipe) => [pipe.id, addPipe(pipe, bodyOf(pipe.body))]));
  const fittings = scene.fittings.map((fitting) => addFitting(fitting, bodyOf(fitting.body)));
  for (const { group, rods, balls } of bodies.values()) group.add(rods.drawn(ROD), balls.drawn(BALL));
  return { bodies: new Map([...bodies].map(([name, { group }]) => [name, group])), pipes, fittings };
}

function addPipe(pipe: PipePart, body: { group: Group; rods: Copies }): Part {
  const part = new Part(pipe.id, pipe.said, pipe.mark, colours.pipe);
  const points = pipe.path.map(toView);
  if (points.length > 2) {
    const bent = new TubeGeometry(new CatmullRomCurve3(points), points.length * 2, pipe.radius_m, 10);
    const tube = new Mesh(bent, materials.pipe);
    tube.userData["parts"] = [part];
    part.drawnAs(tube);
    body.group.add(tube);
  } else {
    body.rods.add(part, rodAt(points[0]!, points[1]!, pipe.radius_m));
  }
  return part;
}

function addFitting(fitting: FittingPart, body: { rods: Copies; balls: Copies }): Part {
  const part = new Part(fitting.id, fitting.said, "", colours.fitting);
  for (const [start, end] of fitting.segments) body.rods.add(part, rodAt(toView(start), toView(end), fitting.radius_m));
  const centre = fitting.segments[0]?.[0];
  if (centre) {
    const radius = fitting.radius_m;
    body.balls.add(part, new Matrix4().makeScale(radius, radius, radius).setPosition(toView(centre)));
  }
  return part;
}

export function filmMesh(faces: Face[]): Mesh {
  const corners: number[] = [];
  for (const face of faces) {
    const points = face.points.map(toView);
    for (let i = 1; i + 1 < points.length; i++) {
      for (const point of [points[0]!, points[i]!, points[i + 1]!]) corners.push(point.x, point.y, point.z);
    }
  }
  const skin = new BufferGeometry();
  skin.setAttribute("position", new Float32BufferAttribute(corners, 3));
  skin.computeVertexNormals();
  const film = new Mesh(skin, materials.film);
  film.raycast = () => undefined; // a tap goes through to the pipes
  return film;
}

export function bedGroup(bed: Bed): Group {
  const group = new Group();
  const { length_m: length, width_m: width, height_m: height, board_m: board } = bed;
  const box = (l: number, h: number, w: number, x: number, y: number, z: number, material: Material) => {
    const mesh = new Mesh(new BoxGeometry(l, h, w), material);
    mesh.position.set(x, y, z);
    group.add(mesh);
  };
  for (const side of [1, -1]) {
    box(length, height, board, 0, -height / 2, (side * (width - board)) / 2, materials.bed);
    box(board, height, width - 2 * board, (side * (length - board)) / 2, -height / 2, 0, materials.bed);
  }
  box(length - 2 * board, height * 0.85, width - 2 * board, 0, -height * 0.575, 0, materials.soil);
  const ground = new Mesh(new CircleGeometry(Math.hypot(length, width) * 0.8, 64), materials.ground);
  ground.rotation.x = -Math.PI / 2;
  ground.position.y = -height;
  group.add(ground);
  return group;
}

// The points that a picture of the whole has to hold: the pipes' ends and bends, as far as their bodies have turned,
// and the corners of the bed.
export function outlineOf(scene: Scene, bodies: Map<string, Group>): Vector3[] {
  for (const body of bodies.values()) body.updateMatrix();
  const points = scene.pipes.flatMap((pipe) => pipe.path.map((at) => toView(at).applyMatrix4(bodies.get(pipe.body)!.matrix)));
  const { length_m: length, width_m: width, height_m: height } = scene.bed;
  for (const x of [-length / 2, length / 2]) {
    for (const y of [-width / 2, width / 2]) points.push(toView([x, y, 0]), toView([x, y, -height]));
  }
  return points;
}
