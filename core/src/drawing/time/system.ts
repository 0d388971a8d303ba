/** One system: all voices over one part of the axis. */
import type { SignId } from "../../base/index.js"
import { keptBy, type DrawnGroup, type Hand } from "../scene/hand.js"
import type { Group, Item } from "../scene/scene.js"
import { AXIS_GAP, AXIS_HEIGHT, drawAxis } from "./axis.js"
import { drawCracks } from "./crack.js"
import type { FormedVoice } from "./formed.js"
import { drawGutter, nameEnd } from "./gutter.js"
import { lineWidth, type Look } from "./options.js"
import { hasPillar } from "./perfections.js"
import { placeVoice, xAt, type Axis, type PlacedVoice } from "./place.js"
import type { Plan } from "./plan.js"
import { drawReason, drawRemark } from "./reason.js"
import { drawSelection } from "./selection.js"
import { firstFrom } from "./timeline.js"
import { drawVoice, PillarStrokes } from "./voice.js"

/** A system that is placed; it is drawn when its group is asked for. Its own top is y 0. */
export class TimeSystem {
  readonly axis: Axis
  readonly axisY: number
  readonly placed: readonly PlacedVoice[]
  readonly height: number
  readonly #plan: Plan
  /** Where the reason of the sign asked about stands, and the sentence on where voices part. */
  readonly #words: { readonly items: readonly Item[]; readonly bottom: number }
  #group: Group | undefined
  /** Of each voice, where it has been drawn and is kept. */
  readonly #drawnVoices: (Item | undefined)[]

  /** `before` is the system in the last layout over the same part of the axis, `same` says which of its voices are as they were. */
  constructor(plan: Plan, axis: Axis, before?: TimeSystem, same: readonly boolean[] = []) {
    const { look } = plan.book
    this.#plan = plan
    this.axis = axis
    this.axisY = AXIS_HEIGHT * look.size
    // room for lines of causes comes and goes with what is asked
    const known = plan.options.select === undefined && before ? before.placed.map((one, i) => same[i] && one) : []
    this.placed = placeVoices(plan, axis, this.axisY + AXIS_GAP * look.size, known)
    this.#drawnVoices = this.placed.map((one, i) => (known[i] === one ? before!.#drawnVoices[i] : undefined))
    this.#words = this.#below(this.placed.at(-1)?.bottom ?? this.axisY)
    this.height = this.#words.bottom + 24 * look.size
  }

  get group(): Group {
    this.#group ??= { shape: "group", part: "system", content: this.#kept() }
    return this.#group
  }

  /**
   * At its place in a picture. Drawn when it is asked for, and not kept: most pictures are gone through once, and what need not
   * be there to be written is written in half the time.
   */
  at(top: number): DrawnGroup {
    const draw = (hand: Hand) => this.#draw(hand)
    const content = () => this.#group?.content ?? keptBy(draw)
    return {
      shape: "group",
      part: "system",
      y: top,
      draw,
      get content() {
        return content()
      },
    }
  }

  /** With its voices kept for the next layout. */
  #kept(): Item[] {
    const { book, wholes } = this.#plan
    for (const [i, voice] of this.placed.entries())
      this.#drawnVoices[i] ??= keptBy(hand => drawVoice(voice, wholes, book.look, hand))[0]
    return keptBy(hand => this.#draw(hand))
  }

  #draw(hand: Hand): void {
    const { book, score, wholes } = this.#plan
    const { look } = book
    const unit = score.unit === "minima" ? "minims" : "tempora"
    const [first] = this.placed
    drawAxis(this.axis, this.axisY, unit, first ? nameEnd(first, look) : 0, look, hand)
    for (const [i, voice] of this.placed.entries()) {
      const drawn = this.#drawnVoices[i]
      if (drawn) hand.item(drawn)
      else drawVoice(voice, wholes, look, hand)
    }
    joinPillars(this.placed, look, hand)
    for (const voice of this.placed) drawGutter(voice, look, hand)
    for (const item of this.#words.items) hand.item(item)
  }

  #below(foot: number): { items: Item[]; bottom: number } {
    const { book, options, reason, parting } = this.#plan
    const { look } = book
    const items: Item[] = []
    let bottom = foot
    const { select } = options
    if (select !== undefined && reason && !holds(this.placed, select))
      items.push(...drawSelection(this.placed, select, undefined, look))
    if (select !== undefined && reason && holds(this.placed, select)) {
      const reasonY = bottom + look.between
      const { items: words, height } = drawReason(reason, this.axis.left, reasonY, look)
      items.push(...drawSelection(this.placed, select, reasonY, look), rule(reasonY, look), ...words)
      bottom = reasonY + height
    }
    const cracks = parting ? this.placed.flatMap(voice => drawCracks(voice, parting, look)) : []
    if (parting && cracks.length > 0) {
      const { items: words, height } = drawRemark(parting.sentence, bottom + look.between, look)
      items.push(...cracks, ...words)
      bottom += look.between + height
    }
    return { items, bottom }
  }
}

export const holds = (voices: readonly PlacedVoice[], id: SignId): boolean =>
  voices.some(({ signs }) => signs.some(({ timed }) => timed.sign.id === id))

/** `known` are those that may be taken over where they stand at the same height. */
function placeVoices(
  { voices, book, options }: Plan,
  axis: Axis,
  top: number,
  known: readonly (PlacedVoice | false | undefined)[],
): PlacedVoice[] {
  let y = top
  return voices.map((formed, i) => {
    const lane = options.lanes === true || (options.select !== undefined && needsLane(formed, options.select, axis))
    const old = known[i]
    const placed = old && old.top === y ? old : placeVoice(formed, axis, { top: y, lane }, book)
    y = placed.bottom + book.look.between
    return placed
  })
}

/** The sign asked about has causes, and it or one of them stands in this system. */
function needsLane({ time }: FormedVoice, select: SignId, { from, to }: Axis): boolean {
  const asked = time.byId.get(select)
  if (!asked || asked.reading.because.length === 0) return false
  const because = new Set(asked.reading.because)
  const told = time.signs.filter(one => because.has(one.sign.id) || one.after.some(dot => because.has(dot.id)))
  return [asked, ...told].some(({ at }) => at >= from && at < to)
}

/** Where two neighbours' perfections begin together the pillar runs on through the gap. */
function joinPillars(voices: readonly PlacedVoice[], look: Look, hand: Hand): void {
  for (let v = 1; v < voices.length; v++) {
    const [above, below] = [voices[v - 1]!, voices[v]!]
    const { from, to } = below.axis
    // no line runs through a name
    const free = nameEnd(below, look)
    const { pillars } = below.formed.ruled
    const end = firstFrom(pillars, to)
    for (let i = firstFrom(pillars, from); i < end; i++) {
      const { at, kind } = pillars[i]!
      const x = xAt(below.axis, at)
      if (x > free && hasPillar(above.formed.ruled, at)) JOINED.add(kind, x, above.bottom, below.top + look.names)
    }
    JOINED.drawBy(hand, "joined-pillar", look)
  }
}

const JOINED = new PillarStrokes()

const rule = (y: number, look: Look): Item => ({
  shape: "line",
  part: "reason-rule",
  x1: look.margin,
  x2: look.width - look.right,
  y1: y,
  y2: y,
  stroke: { role: "blue", width: lineWidth(look, 2) },
})
