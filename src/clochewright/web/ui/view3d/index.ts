// Loaded only where WebGL is there: the drawing in the page stays in its place otherwise.

export { View } from "./view";
