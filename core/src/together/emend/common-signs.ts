/**
 * Signs of mensuration that may be wrong in several voices alike: one exemplar was misread, or whoever keyed the page took one
 * sign for another throughout. It is one slip though it stands in several voices, and only all of it mends it.
 */
import type { MensurationSign, Page, Voice } from "../../page/index.js"
import { candidateAt, type Candidate } from "./candidates.js"
import type { ReadOptions } from "../../reading/settings.js"
import { fitOfSign } from "../mensuration/fit-of-sign.js"
import { edited, editOf } from "./figures.js"
import { drawn } from "./passages.js"
import type { Laid } from "./stage.js"
import type { Edit } from "./types.js"
import { WRONG_ALIKE } from "./weights.js"

/** A voice with the sign that stands before all its notes. */
interface Signed {
  readonly voice: Voice
  readonly at: number
  readonly sign: MensurationSign
}

type Level = "modusMinor" | "tempus" | "prolatio"

/** Levels that are turned together: what is taken for another sign. */
const TURNS: readonly (readonly Level[])[] = [["tempus"], ["prolatio"], ["tempus", "prolatio"], ["modusMinor"]]

export interface CommonSign {
  readonly laid: Laid
  readonly candidate: Candidate
  /** How much worse the notes of these voices agree with the signs that it puts there than with those they have. */
  readonly habit: number
}

/**
 * Each set of voices that may have one wrong sign in common with what it may stand for. Perfections can be counted in so many ways
 * that voices which do not meet would mostly meet under another sign: what the notes themselves say of both weighs as much.
 */
export function commonSigns(page: Page, laid: readonly Laid[], options: ReadOptions): CommonSign[] {
  const signed = page.voices.flatMap(voice => signedFirst(voice) ?? [])
  return setsOf(signed).flatMap(set => {
    const first = laid.find(one => one.subject.voice === set[0]!.voice)
    const figure = first?.subject.figures[0]
    if (!first || !figure) return []
    return TURNS.flatMap(levels => {
      const edits = set.flatMap(one => turnedEdit(one, levels) ?? [])
      if (edits.length < set.length) return []
      const extra = WRONG_ALIKE * (edits.length - 1)
      const end = first.subject.figures.length - 1
      const candidate = candidateAt(first.subject, "mensuration-missing", figure, edits[0]!, extra, end)
      const whole = { ...candidate, sign: set[0]!.sign.id, also: edits.slice(1) }
      return [{ laid: first, candidate: whole, habit: habitOf(laid, edits, options) }]
    })
  })
}

function habitOf(laid: readonly Laid[], edits: readonly Edit[], options: ReadOptions): number {
  let worse = 0
  for (const edit of edits) {
    const own = laid.find(({ subject }) => subject.voice.id === edit.voice)
    const after = own && edited(own.subject.voice, edit)
    if (!after) continue
    const fit = (voice: Voice): number => fitOfSign(voice, own.worked.chosen, options)
    worse += fit(own.subject.voice) - fit(after)
  }
  return worse
}

function signedFirst(voice: Voice): Signed | undefined {
  for (const [at, sign] of voice.signs.entries()) {
    if (sign.kind === "note" || sign.kind === "rest" || sign.kind === "ligature") return undefined
    if (sign.kind === "mensuration") return { voice, at, sign }
  }
  return undefined
}

/** All voices, and those that are signed alike, where they are two and more. */
function setsOf(signed: readonly Signed[]): Signed[][] {
  const alike = new Map<string, Signed[]>()
  for (const one of signed) alike.set(keyOf(one), [...(alike.get(keyOf(one)) ?? []), one])
  const sets = alike.size > 1 ? [[...signed], ...alike.values()] : [...alike.values()]
  return sets.filter(set => set.length > 1)
}

const keyOf = ({ sign }: Signed): string => [drawn(sign), sign.tempus, sign.prolatio].join(" ")

const other = (division: 2 | 3): 2 | 3 => (division === 3 ? 2 : 3)

/** Undefined where the sign says nothing of a level that is to be turned. */
function turnedEdit({ voice, at, sign }: Signed, levels: readonly Level[]): Edit | undefined {
  let now: MensurationSign | undefined = sign
  for (const level of levels) now = now && turned(now, level)
  return now && editOf(voice, at, at + 1, [now])
}

function turned(sign: MensurationSign, level: Level): MensurationSign | undefined {
  const said = sign[level]
  const isDrawn = sign.sign !== undefined && !sign.figures && level !== "modusMinor"
  if (said === undefined && !isDrawn) return undefined
  const stated = said === undefined ? sign : { ...sign, [level]: other(said) }
  if (!isDrawn) return stated
  if (level === "tempus") return { ...stated, sign: sign.sign === "O" ? "C" : "O" }
  const { dots, ...plain } = stated
  return dots ? plain : { ...plain, dots: 1 }
}
