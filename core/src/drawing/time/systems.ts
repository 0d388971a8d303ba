/** How wide a unit of time is, and where the axis is cut when it is longer than the picture. */
import { USUAL_CLEF } from "../signs/index.js"
import { textWidth } from "../text/width.js"
import { countText } from "../../reading/index.js"
import { besideForm, formsOf, movedBox, raisedForm, type Form } from "./forms.js"
import { typeSize, type Look } from "./options.js"
import { momentKey, type Ruled } from "./perfections.js"
import { storeysOf, type Storey } from "./rivals.js"
import type { TimedSign, TimeVoice } from "./timeline.js"

/** A voice with its forms. */
export interface FormedVoice {
  readonly time: TimeVoice
  readonly forms: readonly Form[]
  /** What stands before each note or rest, on the left of its head. */
  readonly before: readonly Form[]
  readonly storeys: readonly Storey[]
  /** Moments of its pillars, as `momentKey` has them. */
  readonly pillarKeys: ReadonlySet<number>
  /** What stands behind the last of them. */
  readonly tail: Form
  readonly ruled: Ruled
}

export function formVoice(time: TimeVoice, ruled: Ruled, look: Look): FormedVoice {
  return {
    time,
    ruled,
    forms: formsOf(time, look),
    storeys: storeysOf(time),
    pillarKeys: new Set(ruled.pillars.map(({ at }) => momentKey(at))),
    tail: tailForm(time, look),
    before: time.signs.map(timed =>
      timed.before.length === 0 ? NOTHING : besideForm(timed.before, timed, time.style, look),
    ),
  }
}
const NOTHING: Form = { items: [], box: { left: 0, right: 0, top: 0, bottom: 0 }, pieces: [], bodies: new Map() }

function tailForm(time: TimeVoice, look: Look): Form {
  const last = time.signs.at(-1) ?? { clef: USUAL_CLEF, position: time.style.lines - 1 }
  return time.tail.length === 0 ? NOTHING : besideForm(time.tail, last, time.style, look)
}

/** Free between one sign and the next. */
const BETWEEN = 4

/** A few signs that want more room than all others do not make the whole piece wide: their accidentals are raised instead. */
const ORDINARY = 0.97
const STRETCH = 1.5

/** Px that one unit of time takes at the least, so that signs and counts stand clear of each other. */
export function leastScale(voices: readonly FormedVoice[], from: number, to: number, look: Look): number {
  const wanted: number[] = []
  let needed = 6 * look.size
  for (const voice of voices)
    voice.time.signs.forEach((timed, i) => {
      if (timed.lasts <= 0 || timed.at < from || timed.at >= to || timed.held) return
      const head = (voice.forms[i]!.bodies.get(timed.sign.id)?.right ?? 0) + BETWEEN * look.size
      needed = Math.max(needed, Math.max(head, countRoom(timed, look)) / timed.lasts, bodyScale(voice, i, look))
      wanted.push(spaceAfter(voice, i, look) / timed.lasts)
    })
  wanted.sort((one, other) => one - other)
  const ordinary = wanted[Math.floor((wanted.length - 1) * ORDINARY)] ?? 0
  return Math.max(needed, ordinary, Math.min(wanted.at(-1) ?? 0, ordinary * STRETCH))
}

/** From one head to the next: smaller pieces keep clear only where they are at one height. */
function spaceAfter({ time, forms, before }: FormedVoice, at: number, look: Look): number {
  const { ligature, inLigature, sign } = time.signs[at]!
  const own = forms[at]!
  const gap = BETWEEN * look.size
  let needed = (own.bodies.get(sign.id)?.right ?? 0) + gap
  const next = forms[at + 1]
  // a ligature's body may reach over the echoes of its own notes
  if (!next || (ligature && inLigature === 0)) return needed
  const shift = Math.min(0, next.box.left)
  const ahead = [...next.pieces, ...before[at + 1]!.pieces.map(piece => movedBox(piece, shift, 0))]
  for (const mine of own.pieces)
    for (const other of ahead)
      if (mine.bottom > other.top - gap / 2 && mine.top < other.bottom + gap / 2)
        needed = Math.max(needed, mine.right - other.left + gap)
  return needed
}

/** A ligature's body is not to reach beyond the time of its notes. */
function bodyScale({ time: { signs }, forms }: FormedVoice, at: number, look: Look): number {
  const { ligature, inLigature } = signs[at]!
  if (!ligature || inLigature !== 0) return 0
  let lasts = 0
  for (let i = at; signs[i]?.ligature === ligature; i++) lasts += signs[i]!.lasts
  return lasts > 0 ? (forms[at]!.box.right + BETWEEN * look.size) / lasts : 0
}

/** Accidentals for which there is no room before their notes stand over them. */
export function withRaised(voice: FormedVoice, scale: number, look: Look): FormedVoice {
  const { time, forms } = voice
  const raised = forms.map((form, i) => {
    const before = time.signs[i - 1]
    if (!before || before.lasts === 0 || before.lasts * scale >= spaceAfter(voice, i - 1, look) - 0.5) return form
    return raisedForm(time.signs[i]!, time.style, look) ?? form
  })
  return { ...voice, forms: raised }
}

/** Room for a count with its edges; a sign has no more than its own. */
export const countRoom = (timed: TimedSign, look: Look): number =>
  countWidth(timed.held ? "held" : countText(timed.duration), look) + 8 * look.size

export function countWidth(text: string, look: Look): number {
  const type = { family: "figures", size: typeSize(look, 26), weight: 600 } as const
  const narrow = [...text].filter(letter => letter > "\u2100").length
  return textWidth(text, type) + narrow * 0.24 * type.size
}

/** A part of the axis in one line. */
export interface System {
  readonly from: number
  readonly to: number
}

export interface Systems {
  readonly systems: readonly System[]
  /** Px in a unit at the least; a system that would end early has a little more. */
  readonly scale: number
}

/** No unit is wider than this many times what it needs, and no system so cramped that it holds less than two units. */
const WIDEST = 2.6

export function cutIntoSystems(
  voices: readonly FormedVoice[],
  { from, to }: System,
  room: number,
  look: Look,
): Systems {
  const least = Math.min(leastScale(voices, from, to, look), room / 2)
  const total = to - from
  if (total * least <= room) return { systems: [{ from, to }], scale: Math.min(room / total, least * WIDEST) }
  const cuts = cutsOf(voices, from, to)
  const systems = evenly(cuts, { from, to }, room / least)
  const longest = Math.max(...systems.map(one => one.to - one.from))
  return { systems, scale: Math.min(room / longest, least * WIDEST) }
}

/** As few as there can be, of about the same length, each no longer than `capacity`. */
function evenly(cuts: readonly Cut[], { from, to }: System, capacity: number): System[] {
  const systems: System[] = []
  for (let start = from; start < to - 1e-9;) {
    const left = Math.ceil((to - start) / capacity - 1e-9)
    const end = left <= 1 ? to : bestCut(cuts, start, (to - start) / left, capacity)
    systems.push({ from: start, to: end })
    start = end
  }
  return systems
}

interface Cut {
  readonly at: number
  readonly worth: number
}

/** Moments at which a system may end: the better the more voices begin a perfection or a sign there. */
function cutsOf(voices: readonly FormedVoice[], from: number, to: number): Cut[] {
  const worths = new Map<number, { at: number; worth: number }>()
  const add = (at: number, worth: number) => {
    if (at <= from || at >= to) return
    const key = momentKey(at)
    const known = worths.get(key)
    if (known) known.worth += worth
    else worths.set(key, { at, worth })
  }
  for (const { time, ruled } of voices) {
    for (const { at, kind } of ruled.pillars) add(at, kind === "larger" ? 2 : kind === "twofold" ? 0.8 : 1)
    for (const { at } of time.signs) add(at, 1)
  }
  return [...worths.values()].sort((one, other) => one.at - other.at)
}

/** Near the length that all would have, where the most voices begin something; what is cut through counts against it. */
function bestCut(cuts: readonly Cut[], start: number, length: number, capacity: number): number {
  const near = cuts.filter(({ at }) => at > start + length * 0.6 && at <= start + capacity + 1e-9)
  const worth = ({ at, worth: own }: Cut) => own - (14 * Math.abs(at - start - length)) / length
  const best = near.reduce<Cut | undefined>(
    (one, other) => (one && worth(one) >= worth(other) ? one : other),
    undefined,
  )
  return best?.at ?? start + Math.max(Math.min(1, capacity), Math.floor(capacity))
}
