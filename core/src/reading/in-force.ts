/** The mensuration in force, place by place: what signs, proportions, rests, colour and inscriptions of a voice make of it. */
import { equals, ONE, over, times, type SignId } from "../base/index.js"
import type { FlatSign, Mark, MensurationSign, Note, Proportion } from "../page/index.js"
import {
  inscriptionOf,
  measuringAfter,
  measuringOf,
  mensurationByTempus,
  mensurationOf,
  type Measuring,
  type Mensuration,
} from "../practices/index.js"
import { decidedValues } from "./canon.js"
import { isMapped, takesThird, turned } from "./coloured.js"
import type { DraftFigure } from "./draft-figure.js"
import { modusByRests, perfectModusFrom } from "./modus-rests.js"
import type { AssumedChange, Chosen } from "./settings.js"
import { traitsOf } from "./traits.js"
import type { From } from "./types.js"

/** What the figures of one stretch are measured by, and how that is known. */
export interface InForce {
  readonly mensuration: Mensuration
  readonly measuring: Measuring
  readonly from: From
  /** Of an inferred mensuration: twice the chance that it is wrong. */
  readonly doubt: number
}

/** What has been met of signs and colour so far, without what holds for the whole voice. */
export interface Met {
  readonly measuring: Measuring
  /** As the last sign has it, without the proportions after it. */
  readonly signed: Measuring
  readonly from: From
  /** Of what was inferred. */
  readonly doubt: number
  readonly coloured: boolean
}

export const sameMet = (a: Met, b: Met): boolean =>
  a === b ||
  (a.from === b.from &&
    a.doubt === b.doubt &&
    a.coloured === b.coloured &&
    sameMeasuring(a.signed, b.signed) &&
    sameMeasuring(a.measuring, b.measuring))

export const sameMeasuring = (a: Measuring, b: Measuring): boolean =>
  a === b ||
  (a.modusMaior === b.modusMaior &&
    a.modusMinor === b.modusMinor &&
    a.tempus === b.tempus &&
    a.prolatio === b.prolatio &&
    equals(a.ratio, b.ratio))

/** Follows a voice from its first sign to its last, and says what is in force after each. */
export class Mensurations {
  private measuring: Measuring
  private signed: Measuring
  private from: From = "inferred"
  private coloured = false
  private doubt: number
  private readonly changes: ReadonlyMap<SignId, AssumedChange>
  private readonly byTempus: boolean
  /** The practice knows proportions. */
  private readonly proportions: boolean
  /** Inscriptions that have the whole voice sung in other values. */
  readonly inscriptions: readonly string[]
  private readonly inCourse: ReadonlySet<Mark>
  /** Colour cuts the voice into stretches: where no maxima is written, none has to hold whole ones (inference). */
  private readonly countsNoMaximas: boolean
  /** From this sign on the modus minor is perfect, by the rests after it. */
  readonly perfectFrom: SignId | undefined

  constructor(
    flat: readonly FlatSign[],
    private readonly chosen: Chosen,
  ) {
    this.byTempus = chosen.practice.unit === "tempus"
    this.proportions = chosen.practice.rules.some(rule => rule.id === "proportio")
    this.inscriptions = chosen.canon ? [] : inscriptionsIn(flat)
    this.inCourse = chosen.canon ? new Set() : traitsOf(flat).inCourse
    this.perfectFrom = chosen.practice.name === "white" ? perfectModusFrom(flat) : undefined
    this.countsNoMaximas =
      isMapped(chosen.settings) && !flat.some(one => one.sign.kind === "note" && one.sign.level === "maxima")
    this.measuring = this.signed = atFirst(chosen)
    this.doubt = chosen.divisions?.doubt ?? 1
    this.changes = new Map(chosen.divisions?.changes?.map(one => [one.from, one]))
  }

  get met(): Met {
    const { measuring, signed, from, doubt, coloured } = this
    return { measuring, signed, from, doubt, coloured }
  }

  /** Goes on from where so much had been met. */
  goOnFrom({ measuring, signed, from, doubt, coloured }: Met): void {
    this.measuring = measuring
    this.signed = signed
    this.from = from
    this.doubt = doubt
    this.coloured = coloured
  }

  now(): InForce {
    const m = this.asSung()
    const mensuration = this.byTempus
      ? mensurationByTempus(m.modusMinor, m.tempus)
      : mensurationOf(this.countsNoMaximas ? 2 : m.modusMaior, m.modusMinor, m.tempus, m.prolatio)
    const doubt = this.from === "given" ? 0 : this.doubt
    return { mensuration, measuring: m, from: this.from, doubt }
  }

  meetSign(sign: MensurationSign): void {
    this.from = "given"
    this.measuring = measuringOf(sign, this.measuring, this.chosen.settings)
    if (sign.id === this.perfectFrom && sign.modusMinor === undefined)
      this.measuring = { ...this.measuring, modusMinor: 3 }
    const isDrawn = sign.sign !== undefined || sign.letter !== undefined
    if (!this.proportions) this.measuring = { ...this.measuring, ratio: ONE }
    this.signed = isDrawn ? this.measuring : { ...this.measuring, ratio: this.signed.ratio }
  }

  /** Whether another mensuration is supposed from this note or rest on; where a sign has said one, hardly anything is supposed. */
  meetFound(id: SignId): boolean {
    const change = this.changes.get(id)
    if (change === undefined || (this.from === "given" && change.despite !== true)) return false
    const { modusMaior, modusMinor, tempus, prolatio } = change.divisions
    this.measuring = { ...this.measuring, modusMaior, modusMinor, tempus, prolatio }
    this.signed = { ...this.signed, modusMaior, modusMinor, tempus, prolatio }
    this.doubt = change.doubt
    return true
  }

  meetProportion(sign: Proportion): void {
    if (this.proportions && sign.extra?.["type"] !== "figura.signi")
      this.measuring = measuringAfter(sign, this.measuring, this.signed, this.chosen.settings)
  }

  /** Whether words in the course of the voice say in what values it goes on: of those that its sign has, not of the last words. */
  meetInscription(mark: Mark): boolean {
    if (!this.proportions || !this.inCourse.has(mark)) return false
    const by = inscriptionOf(mark.text ?? "", this.measuring).ratio ?? ONE
    this.measuring = { ...this.measuring, ratio: times(this.signed.ratio, by) }
    return true
  }

  /** Whether `figures`, all there is before the first sign, are rests that only say what the modus is. */
  meetModusRests(figures: readonly DraftFigure[]): boolean {
    if (this.chosen.practice.name !== "white") return false
    const modus = modusByRests(figures, this.chosen.settings)
    if (modus !== undefined) {
      this.measuring = { ...this.measuring, ...modus }
      this.signed = { ...this.signed, ...modus }
    }
    return modus !== undefined
  }

  /** Whether another mensuration begins with this note, because colour begins or ends there (option colourMap). */
  meetColour(note: Note): boolean {
    const coloured = note.coloration !== "none"
    const { settings } = this.chosen
    if (coloured === this.coloured || !isMapped(settings) || (coloured && takesThird(this.measuring, settings)))
      return false
    const other = turned(this.measuring, settings)
    if (other === undefined) return false
    this.coloured = coloured
    this.measuring = other
    return true
  }

  /** With what inscriptions or the other voices make of the whole voice's values. */
  private asSung(): Measuring {
    const m = this.measuring
    if (!this.proportions) return m
    let by = this.chosen.scaled ?? ONE
    for (const text of this.inscriptions) by = times(by, inscriptionOf(text, m).ratio ?? ONE)
    if (this.chosen.canon) by = over(by, decidedValues(this.chosen.canon.canon))
    return by.num === by.den ? m : { ...m, ratio: times(m.ratio, by) }
  }
}

/** Before any sign: what is supposed of the voice, or else what is usual. */
function atFirst({ practice, divisions }: Chosen): Measuring {
  const usual = practice.unit === "tempus" ? 3 : 2
  const { modusMaior, modusMinor, tempus, prolatio } = divisions ?? {
    modusMaior: 2,
    modusMinor: usual,
    tempus: usual,
    prolatio: 2,
  }
  return { modusMaior, modusMinor, tempus, prolatio, ratio: ONE }
}

/** Canon inscriptions; none where a proportion before the first note says already what is meant. */
function inscriptionsIn(flat: readonly FlatSign[]): string[] {
  const { canons, first } = traitsOf(flat)
  if (canons.length === 0) return []
  if (flat.slice(0, Math.max(0, first)).some(({ sign }) => sign.kind === "proportion")) return []
  return canons.flatMap(({ text }) => (text === undefined ? [] : [text]))
}
