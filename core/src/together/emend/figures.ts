/** A voice as the notes and rests on which slips are made, each with its place among the signs. */
import type { Dot, Ligature, Note, Rest, Sign, Voice } from "../../page/index.js"
import type { SignId } from "../../base/index.js"
import type { Edit } from "./types.js"

export interface Figure {
  /** Number among the notes and rests of the voice, from 0. */
  readonly index: number
  readonly sign: Note | Rest
  /** Index of the sign, or of the ligature around it, in the voice. */
  readonly top: number
  readonly ligature?: Ligature
  /** Index in the ligature. */
  readonly member: number
  /** The dot right after it. */
  readonly dot?: Dot
}

export function figuresOf(voice: Pick<Voice, "signs">): Figure[] {
  const figures: Figure[] = []
  const add = (run: readonly Sign[], at: number, top: number, ligature?: Ligature): void => {
    const sign = run[at]!
    if (sign.kind !== "note" && sign.kind !== "rest") return
    const next = run[at + 1]
    figures.push({
      index: figures.length,
      sign,
      top,
      member: ligature ? at : -1,
      ...(ligature && { ligature }),
      ...(next?.kind === "dot" && { dot: next }),
    })
  }
  voice.signs.forEach((sign, top) => {
    if (sign.kind === "ligature") sign.members.forEach((_, at) => add(sign.members, at, top, sign))
    else add(voice.signs, top, top)
  })
  return figures
}

/** The edit that puts `signs` in place of those from `from` up to `to` (indices in the voice). */
export function editOf(voice: Voice, from: number, to: number, signs: readonly Sign[]): Edit {
  const out = voice.signs.slice(from, to).map(sign => sign.id)
  const before = voice.signs[to]?.id
  return { voice: voice.id, out, ...(before !== undefined && { before }), in: signs }
}

/** The voice after the edit; undefined where the signs it names no longer stand together. */
export function edited(voice: Voice, edit: Edit): Voice | undefined {
  const at = placeOf(voice, edit)
  if (at < 0) return undefined
  return { ...voice, signs: voice.signs.toSpliced(at, edit.out.length, ...edit.in) }
}

/** Index at which the edit begins; -1 where it cannot be made. */
export function placeOf({ signs }: Voice, { out, before }: Edit): number {
  const find = (id: SignId): number => signs.findIndex(sign => sign.id === id)
  if (out.length === 0) return before === undefined ? signs.length : find(before)
  const at = find(out[0]!)
  return at >= 0 && out.every((id, i) => signs[at + i]?.id === id) ? at : -1
}

/** Edits of the run in which a figure stands: of its ligature, given whole, or of the voice. */
export function aroundFigure(voice: Voice, figure: Figure, remove: number, signs: readonly Sign[]): Edit {
  const { ligature, member, top } = figure
  if (!ligature) return editOf(voice, top, top + remove, signs)
  const members = ligature.members.toSpliced(member, remove, ...(signs as Ligature["members"]))
  return editOf(voice, top, top + 1, [{ ...ligature, members }])
}
