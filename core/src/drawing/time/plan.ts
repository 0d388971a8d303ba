/** What a time view is drawn from: voices with their forms, and the axis of each system. */
import { toNumber, type Rational } from "../../base/index.js"
import { wholesPerUnit, type Score } from "../../score/index.js"
import { axisStep } from "./axis.js"
import { partingOf, type Parting } from "./crack.js"
import { gutterWidth, nameSizeFor, staffLead } from "./gutter.js"
import { lookOf, type Look, type TimeOptions } from "./options.js"
import { levelsOf, ruledOf } from "./perfections.js"
import type { Axis } from "./place.js"
import { reasonOf, type Reason } from "./reason.js"
import { cutIntoSystems, formVoice, withRaised, type FormedVoice, type System } from "./systems.js"
import { firstFrom, timeVoices, type TimeInput, type TimeVoice } from "./timeline.js"

/** All that systems are drawn from. */
export interface Plan {
  readonly look: Look
  readonly score: Score
  readonly voices: readonly FormedVoice[]
  readonly axes: readonly Axis[]
  readonly step: number
  readonly wholes: Rational
  readonly reason?: Reason
  readonly parting?: Parting
  readonly options: TimeOptions
}

/** So much wider than the longest a shorter system may be. */
const FILLED = 1.35

export function planOf(input: TimeInput, options: TimeOptions): Plan {
  const look = lookOf(options)
  const { score } = input
  const times = timeVoices(input)
  const range = rangeOf(times, score, options)
  const voices = times.map(time => formVoice(time, ruledOf(time, range.end), look))
  const left = look.margin + gutterWidth(times, look)
  const right = look.width - look.right
  const lead = staffLead(times, look)
  const { systems, scale } = cutIntoSystems(voices, range, right - left, look)
  const clears = systems.map(({ from }) => roomBefore(voices, from, look))
  const nameRoom = left - look.margin - lead - Math.max(...clears) - 8 * look.size
  const nameSize = nameSizeFor(times, nameRoom, look)
  const axes = systems.map((system, i) => {
    const length = system.to - system.from
    // systems that differ a little in length end at the same margin
    const own = Math.min((right - left) / length, scale * FILLED)
    const clear = clears[i]!
    return {
      ...system,
      left,
      right: left + length * own,
      scale: own,
      lead: lead + clear,
      clear,
      nameSize,
      first: i === 0 && system.from === 0,
      last: system.to >= range.end - 1e-9,
    }
  })
  const reason = options.select === undefined ? undefined : reasonOf(times, options.select)
  const parting = partingOf(score)
  return {
    look,
    score,
    voices: voices.map(voice => withRaised(voice, scale, look)),
    axes,
    step: axisStep(periodOf(times), scale, look),
    wholes: wholesPerUnit(score),
    options,
    ...(reason ? { reason } : {}),
    ...(parting ? { parting } : {}),
  }
}

/** What an accidental before the first note of a system needs beyond the moment; nothing in the compact form. */
function roomBefore(voices: readonly FormedVoice[], from: number, look: Look): number {
  if (look.compact) return 0
  const reach = voices.map(({ time, forms, before }) => {
    const at = firstFrom(time.signs, from)
    const own = forms[at]?.box.left ?? 0
    return Math.max(0, -own - (before[at]?.box.left ?? 0) - look.after)
  })
  return Math.max(0, ...reach)
}

/** The ground's period in the voice that is ruled most coarsely at the beginning. */
const periodOf = (voices: readonly TimeVoice[]): number =>
  Math.max(1, ...voices.flatMap(({ spans }) => (spans[0] ? [levelsOf(spans[0]).base] : [])))

/** A held final is shown as long as one period; where the options cut the axis, no longer. */
function rangeOf(voices: readonly TimeVoice[], score: Score, { from, to }: TimeOptions): System & { end: number } {
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
