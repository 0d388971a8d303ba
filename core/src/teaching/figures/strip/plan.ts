/** A strip before it has places: forms of all signs, what stands at the head of the staves, and how wide a unit of time must be. */
import {
  formVoice,
  FormBook,
  textWidth,
  type Beside,
  type Capital,
  type FormedVoice,
  type Look,
  type TimeVoice,
} from "../../../drawing/index.js"
import { countText } from "../../../reading/index.js"
import { COUNT, FEW_WORDS } from "../letters.js"
import { NEAR, type Passage } from "../passage.js"
import { flagsOf, HEAD_WIDTH } from "../modern/forms.js"
import { toldOf, WORDS_INSET } from "./counts.js"
import { AFTER, DOT_FRAME, type StripLook } from "./look.js"
import { barShift, modernVoice, type ModernVoice } from "./modern-voice.js"
import { sungScale } from "./sung.js"
import { oldOpening, modernOpening, type Opening } from "./openings.js"

export interface PlannedVoice {
  readonly formed: FormedVoice
  readonly modern?: ModernVoice
  readonly opening: Opening
  readonly modernOpening?: Opening
}

export interface StripPlan {
  readonly passage: Passage
  readonly look: StripLook
  readonly voices: readonly PlannedVoice[]
  /** From the left edge of the staves to moment zero. */
  readonly lead: number
  /** Px that a unit of time takes at the least. */
  readonly least: number
}

export function planStrip(passage: Passage, look: StripLook): StripPlan {
  const voices = passage.voices.map(voice => planVoice(voice, passage, look))
  const leads = voices.flatMap(one => [one.opening.width, one.modernOpening?.width ?? 0])
  const clear = Math.max(0, ...voices.map(one => roomBefore(one, passage, look)))
  return {
    passage,
    look,
    voices,
    lead: Math.max(look.space, ...leads) + clear,
    least: Math.max(...voices.map(one => leastScale(one, passage, look))),
  }
}

function planVoice(voice: TimeVoice, passage: Passage, look: StripLook): PlannedVoice {
  const { before, own: whole } = withSignsBefore(voice, passage)
  const own = inWindow(whole, passage)
  const formed = formVoice(own, passage.to, bookFor(look.signs))
  const modern = look.rows.modern === "staff" ? modernVoice(passage, voice.voice.id) : undefined
  return {
    formed,
    opening: oldOpening(own, before, passage, look),
    ...(modern ? { modern, modernOpening: modernOpening(modern, look) } : {}),
  }
}

const books = new WeakMap<Look, FormBook>()

function bookFor(look: Look): FormBook {
  const book = books.get(look) ?? new FormBook(look)
  books.set(look, book)
  return book
}

/** So many signs away may stand what gives a part of its time to a sign that is shown. */
const AROUND = 12

/** Only the signs of the passage and a few beside it, numbered anew. */
function inWindow(voice: TimeVoice, { from, to }: Passage): TimeVoice {
  const first = voice.signs.findIndex(one => one.at + one.lasts > from + NEAR)
  const last = voice.signs.findLastIndex(one => one.at < to - NEAR)
  let begin = Math.max(0, first - AROUND)
  // a ligature is not cut
  while (begin > 0 && (voice.signs[begin]!.inLigature ?? 0) > 0) begin--
  const signs = voice.signs.slice(begin, Math.max(begin, last + AROUND + 1))
  return { ...voice, signs, tail: last >= voice.signs.length - 1 ? voice.tail : [] }
}

type Drawable = Extract<NonNullable<Capital["sign"]>, { kind: "mensuration" | "proportion" }>

/** Signs of mensuration and proportion stand on the staff, where they were written: at its head, or before their notes. */
function withSignsBefore(voice: TimeVoice, { from }: Passage): { before: Drawable[]; own: TimeVoice } {
  const capitals = voice.capitals.flatMap(({ at, sign }) =>
    sign && sign.kind !== "mark" && sign.kind !== "break" && sign.id !== undefined ? [{ at, sign }] : [],
  )
  const early = capitals.filter(({ at }) => at <= from + NEAR)
  const last = early.findLastIndex(({ sign }) => sign.kind === "mensuration")
  const before = early.slice(Math.max(0, last)).map(one => one.sign)
  const later = capitals.filter(({ at }) => at > from + NEAR)
  const taken = new Map<number, Beside[]>()
  for (const { at, sign } of later) {
    const index = voice.signs.findIndex(one => one.at >= at - NEAR)
    if (index >= 0) taken.set(index, [...(taken.get(index) ?? []), sign])
  }
  const signs = voice.signs.map((one, i) =>
    taken.has(i) ? { ...one, before: [...taken.get(i)!, ...one.before] } : one,
  )
  return { before, own: { ...voice, signs } }
}

/** What stands before the first note and has to be kept clear of the opening. */
function roomBefore({ formed }: PlannedVoice, { from }: Passage, look: StripLook): number {
  const at = formed.time.signs.findIndex(one => one.at >= from - NEAR)
  const form = formed.forms[at]
  return form ? Math.max(0, -form.box.left - formed.before[at]!.box.left - AFTER + look.space * 0.2) : 0
}

const GAP = 7
/** Between a frame and the next sign: the frame keeps its dot clear by itself. */
const FRAME_GAP = 3.5

function leastScale({ formed, modern }: PlannedVoice, { from, to }: Passage, look: StripLook): number {
  const { signs } = formed.time
  let least = 4
  signs.forEach((timed, i) => {
    if (timed.lasts <= 0 || timed.at < from - NEAR || timed.at >= to - NEAR) return
    const text = timed.held ? "held" : countText(timed.duration)
    const count = textWidth(text, { ...COUNT, size: 26 * look.bands.size }) + 10
    const sounding = timed.held ? to - timed.at : timed.lasts
    least = Math.max(least, Math.max(spaceAfter(formed, i, look), count) / sounding, bodyScale(formed, i))
  })
  const words = look.rows.words ? wordsScale(formed.time, from, to) : 0
  const sung = sungScale(formed, from, to)
  return Math.max(least, words, sung, modern ? modernScale(modern, to, look) : 0)
}

/** So that the longest word of each reason has room. */
function wordsScale(voice: TimeVoice, from: number, to: number): number {
  const shown = voice.signs.filter(one => one.at >= from - NEAR && one.at < to - NEAR)
  return toldOf(voice, shown, to).reduce((least, { text, length }) => {
    const longest = Math.max(...text.split(" ").map(word => textWidth(word, FEW_WORDS)))
    return Math.max(least, (longest + WORDS_INSET + 8) / length)
  }, 0)
}

/** From a head to the next one with all that stands before it. */
function spaceAfter({ forms, before, time }: FormedVoice, i: number, { rows, space }: StripLook): number {
  const own = forms[i]!
  const timed = time.signs[i]!
  const body = own.body.right
  const next = forms[i + 1]
  if (timed.ligature && timed.inLigature === 0) return body + GAP
  const right = timed.ligature ? body : own.box.right
  const gap = rows.framedDots && timed.after.length > 0 ? FRAME_GAP + DOT_FRAME * space : GAP
  return right + gap + (next ? Math.max(0, -next.box.left) - before[i + 1]!.box.left : 0)
}

/** A ligature's body stays within the time of its notes. */
function bodyScale({ time: { signs }, forms }: FormedVoice, at: number): number {
  const { ligature, inLigature } = signs[at]!
  if (!ligature || inLigature !== 0) return 0
  const lasts = signs.filter(one => one.ligature === ligature).reduce((sum, one) => sum + one.lasts, 0)
  return lasts > 0 ? (forms[at]!.box.right + GAP) / lasts : 0
}

/** A head and what its flag needs before the next stem: it may hang over the next head. */
const HANGING = 1.5

/** Px between the end of a sign and the middle of a bar line. */
const CLEAR_OF_BAR = 6

function modernScale({ signs, bars }: ModernVoice, to: number, look: StripLook): number {
  const space = look.modernSpace
  const isBar = (at: number): boolean => at >= to - NEAR || bars.some(bar => Math.abs(bar - at) < NEAR)
  let least = 0
  signs.forEach(({ sign, form, at, until, held, centred, beam }, i) => {
    if (held || centred) return
    const next = signs[i + 1]
    const { dur, dots } = sign.value
    const flagged = sign.event.kind === "note" && flagsOf(dur) > 0
    const own = flagged ? (beam === undefined ? HANGING : HEAD_WIDTH) + dots : form.box.right
    const wide = (own - Math.min(0, next?.form.box.left ?? 0) + 0.35) * space
    // nothing hangs over a bar line
    const body = (beam === undefined ? form.box.right : HEAD_WIDTH + dots) * space
    const toBar = isBar(until) ? AFTER + body + CLEAR_OF_BAR - barShift(next?.form, space) : 0
    least = Math.max(least, Math.max(wide, toBar) / (until - at))
  })
  return least
}
