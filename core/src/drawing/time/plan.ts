/** What a time view is drawn from: voices with their forms, and the axis of each system. */
import { toNumber, type Rational } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import { wholesPerUnit, type Score } from "../../score/index.js"
import { axisStep } from "./axis.js"
import { partingOf, type Parting } from "./crack.js"
import { NO_FORM } from "./form.js"
import { formVoice, upTo, type FormedVoice } from "./formed.js"
import { bookFor, type FormBook } from "./forms.js"
import { gutterWidth, nameSizeFor, staffLead } from "./gutter.js"
import { lookOf, type Closeness, type Look, type TimeOptions } from "./options.js"
import { levelsOf } from "./perfections.js"
import { firstBefore, openingAt, type Axis } from "./place.js"
import { reasonOf, type Reason } from "./reason.js"
import type { System } from "./scales.js"
import { Cutting } from "./systems.js"
import { timeVoices } from "./time-voices.js"
import { firstFrom, type TimeInput, type TimeVoice } from "./timeline.js"

/** All that systems are drawn from. */
export interface Plan {
  readonly book: FormBook
  readonly score: Score
  readonly voices: readonly FormedVoice[]
  readonly axes: readonly Axis[]
  /** For cutting the axis again. */
  readonly cutting: Cutting
  readonly wholes: Rational
  readonly reason?: Reason
  readonly parting?: Parting
  readonly options: TimeOptions
  readonly close: Closeness
  readonly shapes: Page["shapes"]
}

/** `before` is the plan of the last layout: what looks as it did is taken from it. */
export function planOf(
  input: TimeInput,
  options: TimeOptions,
  { before, close = 0 }: { readonly before?: Plan | undefined; readonly close?: Closeness } = {},
): Plan {
  const look = lookOf(options, close)
  const { shapes } = input.page
  const kept = before && before.shapes === shapes && sameLook(look, before.book.look) ? before : undefined
  const book = kept?.book ?? bookFor(look)
  const { score } = input
  const times = timeVoices(
    input,
    kept?.voices.map(one => one.time),
  )
  const range = rangeOf(times, score, options)
  const voices = times.map(time => {
    const known = kept?.voices.find(one => one.time.voice.id === time.voice.id)
    return known?.time === time ? upTo(known, range.end) : formVoice(time, range.end, book, known)
  })
  const reason = options.select === undefined ? undefined : reasonOf(times, input.readings, options.select)
  const parting = partingOf(score)
  const cutting = Cutting.of(voices, range, book.look, kept)
  return {
    book,
    score,
    voices,
    cutting,
    axes: axesOf(voices, cutting, range, book.look),
    wholes: wholesPerUnit(score),
    options,
    close,
    shapes,
    ...(reason ? { reason } : {}),
    ...(parting ? { parting } : {}),
  }
}

const sameLook = (one: Look, other: Look): boolean =>
  one.size === other.size && one.width === other.width && one.compact === other.compact && one.words === other.words

type Range = System & { readonly end: number }

function axesOf(voices: readonly FormedVoice[], cutting: Cutting, range: Range, look: Look): Axis[] {
  const times = voices.map(one => one.time)
  const lead = staffLead(times, look)
  const right = look.width - look.right
  const cutFrom = (left: number) => {
    const systems = cutting.cutTo(right - left)
    return { left, systems, clears: systems.map(({ from }) => roomBefore(voices, from, look)) }
  }
  const usual = cutFrom(look.margin + gutterWidth(times, lead, look))
  // what stands before the first note of a system moves its staves to the left: they keep within the picture
  const over = lead + Math.max(...usual.clears) - (usual.left - look.margin / 2)
  const { left, systems, clears } = over > 0 ? cutFrom(usual.left + over) : usual
  const nameRoom = left - look.margin - lead - Math.max(...clears) - 8 * look.size
  const nameSize = nameSizeFor(times, nameRoom, look)
  const counted = { period: periodOf(times), beat: beatOf(times) }
  return systems.map(({ from, to, scale }, i) => ({
    from,
    to,
    scale,
    wider: scale / (systems[i - 1]?.scale ?? scale),
    left,
    right: left + (to - from) * scale,
    lead: lead + clears[i]!,
    clear: clears[i]!,
    nameSize,
    step: axisStep(counted, scale, look),
    first: i === 0 && from === 0,
    last: to >= range.end - 1e-9,
  }))
}

/** What an accidental before the first note of a system needs beyond the moment; nothing in the compact form. */
function roomBefore(voices: readonly FormedVoice[], from: number, look: Look): number {
  if (look.compact) return 0
  let room = 0
  for (const voice of voices) {
    const { signs } = voice.time
    const at = firstFrom(signs, from)
    const form = voice.forms[at]
    if (!form) continue
    const before = signs[at]!.before.length > 0 ? firstBefore(voice, at, openingAt(voice, from), look) : NO_FORM
    room = Math.max(room, -form.box.left - before.box.left - look.after)
  }
  return room
}

/** The ground's period in the voice that is ruled most coarsely at the beginning. */
const periodOf = (voices: readonly TimeVoice[]): number =>
  Math.max(1, ...voices.flatMap(({ spans }) => (spans[0] ? [levelsOf(spans[0]).base] : [])))

/** The smallest division of the ground's period in the first voice. */
function beatOf(voices: readonly TimeVoice[]): number {
  const span = voices[0]?.spans[0]
  return span ? toNumber(span.scale) * (span.unit === "minima" ? (span.span.prolatio ?? 2) : 1) : 1
}

/** A held final is shown as long as one period; where the options cut the axis, no longer. */
function rangeOf(voices: readonly TimeVoice[], score: Score, { from, to }: TimeOptions): Range {
  const whole = toNumber(score.duration)
  const finals = voices.map(({ finalAt }) => finalAt).filter(Number.isFinite)
  const rests = voices.flatMap(({ signs, finalAt }) =>
    Number.isFinite(finalAt) ? [] : signs.slice(-1).map(one => one.at + one.lasts),
  )
  const held = finals.length > 0 ? Math.max(...finals) + Math.max(2, periodOf(voices)) : whole
  const end = Math.max(1e-3, Math.min(whole, Math.max(held, ...rests)))
  const start = Math.min(Math.max(0, from ? toNumber(from) : 0), end)
  const stop = Math.min(end, to ? toNumber(to) : end)
  return stop > start + 1e-9 ? { from: start, to: stop, end } : { from: 0, to: end, end }
}
