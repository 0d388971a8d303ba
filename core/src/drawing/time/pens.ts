/** Strokes and types of one size of picture, made once: what looks alike is the same object. */
import type { Role, Stroking, TypeStyle } from "../scene/scene.js"

export interface Pens {
  readonly edge: Stroking
  readonly hatch: Stroking
  readonly tick: Stroking
  readonly staff: Stroking
  readonly kept: Stroking
  readonly given: Stroking
  readonly plus: Stroking
  readonly seal: Stroking
  readonly thread: Stroking
  readonly rival: Stroking
  readonly dots: Stroking
  readonly post: Stroking
  readonly break: Stroking
  readonly axis: Stroking
  readonly largeTick: Stroking
  readonly smallTick: Stroking
  readonly hyphen: Stroking
  readonly extender: Stroking
  readonly pillar: Readonly<Record<"edge" | "larger" | "perfection" | "twofold", Stroking>>
}

export interface Types {
  readonly count: TypeStyle
  readonly held: TypeStyle
  readonly unit: TypeStyle
  readonly tuplet: TypeStyle
  readonly label: TypeStyle
  readonly rubric: TypeStyle
  readonly words: TypeStyle
  readonly italicWords: TypeStyle
  readonly or: TypeStyle
}

/** A line of so many px at full size; nothing is thinner than one. */
export const lineWidth = ({ size }: { readonly size: number }, px: number): number => Math.max(1, px * size)

export function pensOf(size: number): Pens {
  const pen = (role: Role, px: number, more: Partial<Stroking> = {}): Stroking => ({
    role,
    width: lineWidth({ size }, px),
    ...more,
  })
  return {
    edge: pen("clayEdge", 1.5),
    hatch: pen("clayEdge", 1.4),
    tick: pen("clayEdge", 1.25),
    staff: pen("staff", 1.4),
    kept: pen("ink", 2.5, { cap: "butt" }),
    given: pen("ink", 2.5, { cap: "butt", dash: [7 * size, 5 * size] }),
    plus: pen("ink", 2.25),
    seal: pen("ink", 1.75),
    thread: pen("clayEdge", 1.5),
    rival: pen("clayEdge", 1.5, { dash: [5 * size, 4 * size] }),
    dots: pen("clayEdge", 1.8, { dash: [0.01, 7 * size], cap: "round" }),
    post: pen("ink", 4),
    break: pen("second", 2),
    axis: pen("ink", 2),
    largeTick: pen("ink", 2.5),
    smallTick: pen("ink", 1.25),
    hyphen: pen("second", 2),
    extender: pen("second", 1.5),
    pillar: {
      edge: pen("clayEdge", 3),
      larger: pen("clayEdge", 4.5),
      perfection: pen("clayEdge", 2.25),
      twofold: pen("clayEdge", 2.25, { dash: [lineWidth({ size }, 2.25), 4 * size] }),
    },
  }
}

export function typesOf(size: number): Types {
  const figures = (px: number, weight: 400 | 600 = 600): TypeStyle => ({ family: "figures", size: px * size, weight })
  const words = (px: number, italic = true): TypeStyle => ({ family: "words", size: px * size, italic })
  return {
    count: figures(26),
    held: figures(26, 400),
    unit: figures(26, 400),
    tuplet: words(24),
    label: figures(24),
    rubric: words(24),
    words: words(26, false),
    italicWords: words(26),
    or: words(26),
  }
}
