// The frame as the server sends it for the three-dimensional view. Lengths in metres; x along the bed, y across, z up.

export type Point = [number, number, number];

export interface PipePart {
  id: string;
  mark: string;
  role: string;
  body: string;
  path: Point[];
  radius_m: number;
  said: string; // "B, side rail, 38 9/16 in, from stick 2"
}

export interface FittingPart {
  id: string;
  role: string;
  body: string;
  segments: [Point, Point][];
  radius_m: number;
  said: string;
}

export interface Face {
  body: string;
  points: Point[];
}

export interface Bed {
  length_m: number;
  width_m: number;
  height_m: number;
  board_m: number;
}

// A body that opens: it turns about the line through a point, by the right-hand rule, as far as where it rests.
export interface Lid {
  body: string;
  through: Point;
  along: Point;
  rest_deg: number;
}

export interface Scene {
  rev: string;
  pipes: PipePart[];
  fittings: FittingPart[];
  film: Face[];
  bed: Bed;
  lids: Lid[];
}

export async function fetchScene(address: string): Promise<Scene> {
  const answer = await fetch(address, { headers: { accept: "application/json" } });
  if (!answer.ok) throw new Error(`scene: ${answer.status}`);
  return (await answer.json()) as Scene;
}
