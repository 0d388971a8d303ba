/** Heads by their filling: full, void, with a slit (coloured), half and half. */
import type { Coloration } from "../../page/index.js"
import type { Path, Role } from "../scene/scene.js"
import { lozengeOutline, polygonOutline, reversed, squareOutline, type Body } from "./outline.js"

export type Half = "left" | "right" | "top" | "bottom"
export type Filling =
  | { readonly kind: "full" }
  | { readonly kind: "void" }
  /** Full, with a thin line of the ground inside the outline: red that is told from black in a grey print too. */
  | { readonly kind: "slit" }
  /** Which half is void; the other is full. */
  | { readonly kind: "half"; readonly void: Half }

export interface Ink {
  readonly filling: Filling
  readonly role: Role
}

/** What a coloration looks like where heads are ordinarily full, or void. Small notes of white notation are full without colour. */
export function inkOf(coloration: Coloration, ordinarilyVoid: boolean): Ink {
  switch (coloration) {
    case "none":
      return { filling: { kind: ordinarilyVoid ? "void" : "full" }, role: "ink" }
    case "red":
      return { filling: { kind: "slit" }, role: "red" }
    case "red-void":
      return { filling: { kind: "void" }, role: "red" }
    case "void":
      return { filling: { kind: "void" }, role: "ink" }
    case "black":
      return { filling: { kind: "full" }, role: "ink" }
    case "other":
      return { filling: { kind: "slit" }, role: "second" }
    default: {
      const coloured = coloration.slice(5) as Half
      return { filling: { kind: "half", void: ordinarilyVoid ? OPPOSITE[coloured] : coloured }, role: "ink" }
    }
  }
}
const OPPOSITE = { left: "right", right: "left", top: "bottom", bottom: "top" } as const

/** Of the void heads: the pen is broad along the staff and thin across it. */
export const WALL = 0.15
export const ROOF = 0.19
/** A slit lies this deep under the outline and is 0.1 wide. */
const SLIT = 0.11
const SLIT_WIDTH = 0.09

/** Width of a breve; longer bodies in the order duplex longa, maxima. */
export const BREVE_WIDTH = 1.16
export const DUPLEX_WIDTH = 1.74
export const MAXIMA_WIDTH = 2.2

/** A square or longer head whose left edge is at x. */
export function squareHead(x: number, y: number, width: number, filling: Filling, half = 0.5): Path {
  const body: Body = { left: x, right: x + width, y, half: half * 0.94 }
  const outline = squareOutline(body, half * 0.26)
  const inner = (wall: number, roof: number): Body => ({
    left: body.left + wall,
    right: body.right - wall,
    y,
    half: Math.max(0.03, body.half - Math.min(roof, half * 0.45)),
  })
  switch (filling.kind) {
    case "full":
      return outline
    case "void":
      return [...outline, ...hole(inner(WALL, ROOF))]
    case "slit": {
      const core = inner(SLIT + SLIT_WIDTH, SLIT + SLIT_WIDTH)
      return [...outline, ...hole(inner(SLIT, SLIT)), ...box(core)]
    }
    case "half":
      return [...outline, ...hole(halved(inner(WALL, ROOF), filling.void))]
  }
}

const box = ({ left, right, y, half }: Body): Path =>
  polygonOutline([
    [left, y - half],
    [right, y - half],
    [right, y + half],
    [left, y + half],
  ])
const hole = (body: Body): Path => reversed(box(body))

function halved(body: Body, half: Half): Body {
  const middle = (body.left + body.right) / 2
  switch (half) {
    case "left":
      return { ...body, right: middle }
    case "right":
      return { ...body, left: middle }
    case "top":
      return { ...body, y: body.y - body.half / 2, half: body.half / 2 }
    case "bottom":
      return { ...body, y: body.y + body.half / 2, half: body.half / 2 }
  }
}

export const LOZENGE_WIDTH = 1.2
export const LOZENGE_HEIGHT = 1.56
/** Depth of the broad and of the thin strokes of a void lozenge, in parts of the way from its side to its middle. */
const BROAD = 0.44
const THIN = 0.24

/** A lozenge whose left tip is at x. The pen, held slanting, draws its falling sides broad and its rising ones thin. */
export function lozengeHead(x: number, y: number, filling: Filling): Path {
  const outline = lozenge(x, y, 0, 0)
  switch (filling.kind) {
    case "full":
      return outline
    case "void":
      return [...outline, ...reversed(lozenge(x, y, BROAD, THIN))]
    case "slit":
      return [...outline, ...reversed(lozenge(x, y, 0.25, 0.25)), ...lozenge(x, y, 0.45, 0.45)]
    case "half":
      return [...outline, ...reversed(halfLozenge(x, y, filling.void))]
  }
}

/** A lozenge within the one at x: its falling sides moved in by `falling`, its rising ones by `rising` of the way to the middle. */
function lozenge(x: number, y: number, falling: number, rising: number): Path {
  const at = (u: number, v: number) => [x + (LOZENGE_WIDTH / 2) * (1 + u), y + (LOZENGE_HEIGHT / 2) * v] as const
  const reach = 1 - (falling + rising) / 2
  const shift = (falling - rising) / 2
  return lozengeOutline(at(-shift, -reach), at(reach, shift), at(shift, reach), at(-reach, -shift))
}

function halfLozenge(x: number, y: number, half: Half): Path {
  const at = (u: number, v: number) => [x + (LOZENGE_WIDTH / 2) * (1 + u), y + (LOZENGE_HEIGHT / 2) * v] as const
  const reach = 1 - (BROAD + THIN) / 2
  const [top, right, bottom, left] = [at(0, -reach), at(reach, 0), at(0, reach), at(-reach, 0)]
  return polygonOutline(
    { left: [top, bottom, left], right: [top, right, bottom], top: [top, right, left], bottom: [right, bottom, left] }[
      half
    ],
  )
}
