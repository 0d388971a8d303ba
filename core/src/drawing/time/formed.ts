/** A voice with its forms, and how wide a unit of time has to be for each of them. */
import { USUAL_CLEF } from "../signs/index.js"
import { textWidth } from "../text/width.js"
import { besideForm } from "./beside.js"
import { countText } from "../../reading/index.js"
import { movedBox, NO_FORM, type Form } from "./form.js"
import type { FormBook } from "./forms.js"
import type { Look } from "./options.js"
import { alikeIn, takenOver } from "./alike.js"
import { ruledAgain, type Ruled } from "./perfections.js"
import { storeysOf, type Storey } from "./rivals.js"
import { sungAgain, type Sung } from "./sung.js"
import type { TimedSign, TimeVoice } from "./timeline.js"

export interface FormedVoice {
  readonly time: TimeVoice
  /** Where the picture ends. */
  readonly end: number
  readonly forms: readonly Form[]
  /** What stands before each note or rest, on the left of its head. */
  readonly before: readonly Form[]
  /** What stands behind the last of them. */
  readonly tail: Form
  readonly sung: readonly Sung[]
  readonly storeys: readonly Storey[]
  readonly ruled: Ruled
  /** Px in a unit without which heads and counts would run into each other, for each note or rest. */
  readonly hard: readonly number[]
  /** The same for all that could be set otherwise: accidentals, dots, words. */
  readonly soft: readonly number[]
  /** The same without words. */
  readonly wordless: readonly number[]
}

/** Free between one sign and the next. */
const BETWEEN = 4

/** `before` is the voice in the last layout, from the same book: what stands alike at its beginning and end is taken over. */
export function formVoice(time: TimeVoice, end: number, book: FormBook, before?: FormedVoice): FormedVoice {
  const { look } = book
  const same = alikeIn(time, before?.time)
  const { length } = time.signs
  const forms = takenOver(before?.forms, same, length, at => book.formOf(time, at))
  const bare = {
    time,
    forms,
    before: takenOver(before?.before, same, length, at => book.beforeOf(time.signs[at]!, time.style)),
  }
  const ruled = ruledAgain(time, end, before)
  const sung = look.words > 0 ? sungAgain(time, look, before) : []
  // what a sign needs hangs on the next one too
  const needs = { ...same, head: Math.max(0, same.head - 1) }
  const wordless = takenOver(before?.wordless, needs, length, at => softNeed(bare, at, look))
  return {
    ...bare,
    end,
    sung,
    ruled,
    storeys: storeysOf(time, look.storeys),
    tail: tailForm(time, look),
    hard: takenOver(before?.hard, needs, length, at => hardNeed(bare, time.signs[at]!, at, look)),
    soft: sung.length === 0 ? wordless : withWords(wordless, time, sung, look),
    wordless,
  }
}

/** The same voice where the picture ends elsewhere. */
export const upTo = (voice: FormedVoice, end: number): FormedVoice =>
  voice.end === end ? voice : { ...voice, end, ruled: ruledAgain(voice.time, end, voice) }

function tailForm(time: TimeVoice, look: Look): Form {
  const last = time.signs.at(-1) ?? { clef: USUAL_CLEF, position: time.style.lines - 1 }
  return time.tail.length === 0 ? NO_FORM : besideForm(time.tail, last, time.style, look)
}

type Bare = Pick<FormedVoice, "time" | "forms" | "before">

function hardNeed(bare: Bare, timed: TimedSign, at: number, look: Look): number {
  if (timed.lasts <= 0 || timed.held) return 0
  const { time, forms } = bare
  const { body, box } = forms[at]!
  // only an accidental can stand elsewhere than before its note
  const next = time.signs[at + 1]?.before.some(one => one.kind !== "accidental") ?? false
  const head = next ? spaceAfter(bare, at, forms[at]!, look) : body.right + BETWEEN * look.size
  const own = Math.max(head, countRoom(timed, look)) / timed.lasts
  if (!timed.ligature || timed.inLigature !== 0) return own
  // a ligature's body is not to reach beyond the time of its notes
  let lasts = 0
  for (let i = at; time.signs[i]?.ligature === timed.ligature; i++) lasts += time.signs[i]!.lasts
  return Math.max(own, (box.right + BETWEEN * look.size) / lasts)
}

function softNeed(voice: Bare, at: number, look: Look): number {
  const { lasts, held } = voice.time.signs[at]!
  return lasts <= 0 || held ? 0 : spaceAfter(voice, at, voice.forms[at]!, look) / lasts
}

function withWords(wordless: readonly number[], { signs }: TimeVoice, sung: readonly Sung[], look: Look): number[] {
  const needs = [...wordless]
  sung.forEach(({ sign, width, join }, i) => {
    const next = sung[i + 1]
    const time = next ? signs[next.sign]!.at - signs[sign]!.at : 0
    if (time > 0) needs[sign] = Math.max(needs[sign]!, (width * SYLLABLE_ROOM + gapAfter(join) * look.size) / time)
  })
  return needs
}
/** Px at full size from one syllable to the next: room for a hyphen, or for a word's end with a pillar behind it. */
export const gapAfter = (join: Sung["join"]): number => (join === "-" ? 9 : 10)
/** A syllable may be a little late: so much of its width it has to have at its own note. */
const SYLLABLE_ROOM = 0.65

/** From one head to the next: smaller pieces keep clear only where they are at one height. */
export function spaceAfter({ time, forms, before }: Bare, at: number, own: Form, look: Look): number {
  const { ligature, inLigature } = time.signs[at]!
  const gap = BETWEEN * look.size
  let needed = own.body.right + gap
  const next = forms[at + 1]
  // a ligature's body may reach over the echoes of its own notes
  if (!next || (ligature && inLigature === 0)) return needed
  needed = clearOf(own, next.pieces, gap, needed)
  const beside = before[at + 1]!
  if (beside === NO_FORM) return needed
  const ahead = beside.pieces.map(piece => movedBox(piece, Math.min(0, next.box.left), 0))
  return clearOf(own, ahead, gap, needed)
}

/** So much or more, so that none of its pieces meets one of those ahead. */
function clearOf(own: Form, ahead: Form["pieces"], gap: number, least: number): number {
  let needed = least
  for (const mine of own.pieces)
    for (const other of ahead)
      if (mine.bottom > other.top - gap / 2 && mine.top < other.bottom + gap / 2)
        needed = Math.max(needed, mine.right - other.left + gap)
  return needed
}

/** Room for a count with its edges; a sign has no more than its own. */
const countRoom = (timed: TimedSign, look: Look): number =>
  countWidth(timed.held ? "held" : countText(timed.duration), look) + 8 * look.size

const widths = new WeakMap<object, Map<string, number>>()

export function countWidth(text: string, { types: { count: type } }: Pick<Look, "types">): number {
  let known = widths.get(type)
  if (known === undefined) widths.set(type, (known = new Map()))
  let width = known.get(text)
  if (width === undefined) known.set(text, (width = measured(text, type)))
  return width
}
function measured(text: string, type: Look["types"]["count"]): number {
  const narrow = [...text].filter(letter => letter > "\u2100").length
  return textWidth(text, type) + narrow * 0.24 * type.size
}
