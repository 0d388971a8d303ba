/** Which systems of the last layout still stand: those in which everything that is drawn is as it was. */
import { AROUND } from "./bands.js"
import type { FormedVoice } from "./formed.js"
import { isImperfection } from "./gains.js"
import { samePillars } from "./perfections.js"
import { openingAt, signsIn, type Axis } from "./place.js"
import type { Plan } from "./plan.js"
import { samePiece, storeysWithin, type Storey } from "./rivals.js"
import { sameCapital, sameHead, sameList, sameWith } from "./same.js"
import { NEAR, type Capital, type TimeVoice } from "./timeline.js"

/** Two layouts of the same picture, the later made from the earlier. */
export class Compared {
  readonly #voices: readonly ComparedVoice[]
  readonly #samePiece: boolean

  constructor(before: Plan, now: Plan) {
    this.#samePiece = before.voices.length === now.voices.length && sameList(piece(before), piece(now))
    this.#voices = this.#samePiece ? now.voices.map((voice, i) => new ComparedVoice(before.voices[i]!, voice)) : []
  }

  /** Which of the voices of a system over the one part of the axis then are drawn as they are over the other part now. */
  sameVoices(before: Axis, now: Axis): readonly boolean[] {
    if (!this.#samePiece || !sameAxis(before, now)) return NONE
    return this.#voices.map(voice => voice.isSame(now))
  }
}
const NONE: readonly boolean[] = []

/** What tells of the whole piece and is drawn in its systems. */
function piece({ options, parting, reason, wholes, score }: Plan): readonly unknown[] {
  const said = [reason?.headline, reason?.sentences, reason?.source, parting?.sentence]
  return [wholes.num, wholes.den, score.unit, options.lanes, options.select, ...said, ...(parting?.signs ?? [])]
}

const sameAxis = (one: Axis, other: Axis): boolean =>
  one.from === other.from &&
  one.to === other.to &&
  one.left === other.left &&
  one.right === other.right &&
  one.scale === other.scale &&
  one.wider === other.wider &&
  one.lead === other.lead &&
  one.clear === other.clear &&
  one.nameSize === other.nameSize &&
  one.step === other.step &&
  one.first === other.first &&
  one.last === other.last

/** What is the same all along is found once; of the rest only what stands in a system is looked at. */
class ComparedVoice {
  readonly #before: FormedVoice
  readonly #now: FormedVoice
  readonly #sameFrame: boolean
  readonly #sameHeads: boolean
  readonly #sameCapitals: boolean
  readonly #sameStoreys: boolean
  /** Signs are the same in all systems that end before this moment, and in those that begin after that one. */
  readonly #sameUntil: number
  readonly #sameSince: number

  constructor(before: FormedVoice, now: FormedVoice) {
    this.#before = before
    this.#now = now
    this.#sameFrame = sameFrame(before.time, now.time)
    this.#sameHeads = sameWith(before.time.heads, now.time.heads, sameHead)
    this.#sameCapitals = sameWith(before.time.capitals, now.time.capitals, sameCapital)
    this.#sameStoreys = sameWith(before.storeys, now.storeys, sameStorey)
    const { until, since } = sameEnds(before.time, now.time)
    this.#sameUntil = until
    this.#sameSince = since
  }

  isSame(axis: Axis): boolean {
    if (this.#before === this.#now) return true
    return (
      this.#sameFrame &&
      (this.#sameHeads || this.#sameOpening(axis)) &&
      this.#sameTail(axis) &&
      (axis.to < this.#sameUntil || axis.from > this.#sameSince || this.#sameSigns(axis)) &&
      (this.#sameCapitals || this.#sameCapitalsIn(axis)) &&
      (this.#sameStoreys || this.#sameStoreysIn(axis)) &&
      samePillars(this.#before.ruled, this.#now.ruled, axis)
    )
  }

  #sameOpening({ from }: Axis): boolean {
    const [one, other] = [openingAt(this.#before, from), openingAt(this.#now, from)]
    return one.clef === other.clef && one.signature === other.signature && one.isNew === other.isNew
  }

  #sameTail({ last }: Axis): boolean {
    return !last || (this.#before.tail === this.#now.tail && sameList(this.#before.time.tail, this.#now.time.tail))
  }

  #sameSigns(axis: Axis): boolean {
    const [one, other] = [this.#before.time, this.#now.time]
    const [here, there] = [signsIn(one.signs, axis), signsIn(other.signs, axis)]
    const count = here.ends - here.begins
    if (count !== there.ends - there.begins) return false
    if (one.decided.size === 0 && other.decided.size === 0)
      for (let i = 0; i < count; i++) if (one.signs[here.begins + i] !== other.signs[there.begins + i]) return false
    return sameList(signsAround(one, axis, here), signsAround(other, axis, there))
  }

  #sameCapitalsIn(axis: Axis): boolean {
    return sameWith(capitalsAround(this.#before.time, axis), capitalsAround(this.#now.time, axis), sameCapital)
  }

  #sameStoreysIn({ from, to }: Axis): boolean {
    return sameWith(
      storeysWithin(this.#before.storeys, from, to),
      storeysWithin(this.#now.storeys, from, to),
      sameStorey,
    )
  }
}

const sameFrame = (one: TimeVoice, other: TimeVoice): boolean =>
  one.voice.id === other.voice.id &&
  one.voice.label === other.voice.label &&
  one.voice.n === other.voice.n &&
  one.style.lines === other.style.lines &&
  one.style.white === other.style.white &&
  (one.signs.length === 0) === (other.signs.length === 0)

/** Between which moments signs differ, with those around that reach into other systems. */
function sameEnds(before: TimeVoice, now: TimeVoice): { until: number; since: number } {
  const nothing = { until: -Infinity, since: Infinity }
  if (before.decided.size > 0 || now.decided.size > 0 || !before.inOrder || !now.inOrder) return nothing
  const [one, other] = [before.signs, now.signs]
  const most = Math.min(one.length, other.length)
  let head = 0
  while (head < most && one[head] === other[head]) head++
  if (head === one.length && head === other.length) return { until: Infinity, since: -Infinity }
  let tail = 0
  while (tail < most - head && one.at(-1 - tail) === other.at(-1 - tail)) tail++
  const [last, first] = [other[head - AROUND - 2], other[other.length - tail + AROUND + 1]]
  return { until: (last?.at ?? -Infinity) - 2 * NEAR, since: (first?.at ?? Infinity) + 2 * NEAR }
}

/** Notes and rests that are drawn in a system, each with whether its duration was decided. */
function signsAround(
  { signs, decided }: TimeVoice,
  axis: Axis,
  { begins, ends }: ReturnType<typeof signsIn>,
): readonly unknown[] {
  const found: unknown[] = []
  const last = Math.min(signs.length, ends + AROUND)
  for (let at = Math.max(0, begins - AROUND); at < last; at++) {
    const timed = signs[at]!
    const reachesIn = timed.at + timed.lasts >= axis.from - NEAR && timed.at <= axis.to + NEAR
    // of those around only sleeves reach into it
    if ((at >= begins && at < ends) || reachesIn || isImperfection(timed.reading.rule))
      found.push(timed, decided.has(timed.sign.id))
  }
  return found
}

const capitalsAround = ({ capitals }: TimeVoice, { from, to }: Axis): readonly Capital[] =>
  capitals.filter(({ at }) => at >= from - NEAR && at <= to + NEAR)

const sameStorey = (one: Storey, other: Storey): boolean =>
  one.from === other.from &&
  one.to === other.to &&
  one.row === other.row &&
  sameWith(one.pieces, other.pieces, samePiece)
