// Meshes for pipes, fittings, film, bed and ground, in their true size.

import {
  BufferGeometry,
  CatmullRomCurve3,
  CircleGeometry,
  CylinderGeometry,
  DoubleSide,
  Float32BufferAttribute,
  Group,
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

export const materials = {
  pipe: new MeshLambertMaterial({ color: 0xffffff }),
  picked: new MeshLambertMaterial({ color: 0xa23f22 }),
  fitting: new MeshLambertMaterial({ color: 0x7f9a63 }),
  film: new MeshLambertMaterial({ color: 0xcfe0e4, transparent: true, opacity: 0.3, side: DoubleSide, depthWrite: false }),
  bed: new MeshLambertMaterial({ color: 0xd8c3a0 }),
  soil: new MeshLambertMaterial({ color: 0x6d5642 }),
  ground: new MeshLambertMaterial({ color: 0xcbd6b8 }),
};

// One shape for every rod and one for every ball, stretched to size: nothing new goes to the graphics card at an edit.
const ROD = new CylinderGeometry(1, 1, 1, ROUND);
const BALL = new SphereGeometry(1, ROUND, 10);
export const isShared = (shape: BufferGeometry): boolean => shape === ROD || shape === BALL;

function rod(start: Vector3, end: Vector3, radius: number, material: Material): Mesh {
  const along = end.clone().sub(start);
  const mesh = new Mesh(ROD, material);
  mesh.scale.set(radius, along.length(), radius);
  mesh.position.copy(start).addScaledVector(along, 0.5);
  mesh.quaternion.copy(new Quaternion().setFromUnitVectors(UP, along.normalize()));
  return mesh;
}

export function pipeMesh(pipe: PipePart): Mesh {
  const points = pipe.path.map(toView);
  const [first, last] = [points[0], points[points.length - 1]];
  let mesh: Mesh;
  if (points.length > 2) {
    mesh = new Mesh(new TubeGeometry(new CatmullRomCurve3(points), points.length * 2, pipe.radius_m, 10), materials.pipe);
  } else {
    mesh = rod(first!, last!, pipe.radius_m, materials.pipe);
  }
  mesh.userData = { id: pipe.id, said: pipe.said, mark: pipe.mark };
  return mesh;
}

export function fittingGroup(fitting: FittingPart): Group {
  const group = new Group();
  for (const [start, end] of fitting.segments) group.add(rod(toView(start), toView(end), fitting.radius_m, materials.fitting));
  const centre = fitting.segments[0]?.[0];
  if (centre) {
    const ball = new Mesh(BALL, materials.fitting);
    ball.scale.setScalar(fitting.radius_m);
    ball.position.copy(toView(centre));
    group.add(ball);
  }
  for (const part of group.children) part.userData = { id: fitting.id, said: fitting.said };
  return group;
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
