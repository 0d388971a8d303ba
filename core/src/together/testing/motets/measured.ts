/** An invented motet as MEI, read, and compared with what was meant: lengths as shares of the breve, finals left out. */
import { equals, ONE, over, ratio, sum, times, toText, type Rational } from "../../../base/index.js"
import { readMei } from "../../../formats/mei/index.js"
import type { Reading, SignReading } from "../../../reading/index.js"
import { readTogether } from "../../read-together.js"
import type { Repertory } from "./cells.js"
import { motet } from "./compose.js"
import type { Feature } from "./features.js"
import type { MotetVoice } from "./figures.js"
import { handOf } from "./encoders.js"
import { meiOf, type Hand } from "./mei.js"

export interface Measured {
  readonly notes: number
  readonly wrong: number
  /** With doubt under 0.05, and wrong ones among them. */
  readonly sure: number
  readonly sureWrong: number
  readonly meets: boolean
  /** Where a note was read otherwise than it is meant. */
  readonly faults: readonly Fault[]
}

export interface Fault {
  readonly voice: MotetVoice
  /** Of the voice's figures. */
  readonly at: number
  /** Duration as read. */
  readonly read: string
  readonly rule: string
  readonly doubt: number
}

export interface Asked {
  readonly breves?: number
  /** No mensuration is stated; no practice. */
  readonly bare?: boolean
  readonly unnamed?: boolean
  /** What the motets have of rarer things. */
  readonly features?: readonly Feature[]
  /** What the encoder does otherwise. */
  readonly hand?: Hand
}

/** Throws where the file cannot be read at all. */
export function measured(seed: number, repertory: Repertory, asked: Asked = {}): Measured {
  const { breves, bare, unnamed, features = [] } = asked
  const piece = motet(seed, repertory, breves, new Set(features))
  const usual: Hand = { seed, named: unnamed !== true, mensur: bare ? "none" : "staffDef" }
  const hand: Hand = { ...usual, ...(features.includes("encoders") && handOf(seed, bare === true)), ...asked.hand }
  const document = readMei(meiOf(piece, hand))
  if (!document.ok) throw new Error(document.problems.map(one => one.what).join(" "))
  const { readings } = readTogether(document.value.page)
  const counted = { notes: 0, wrong: 0, sure: 0, sureWrong: 0 }
  const faults: Fault[] = []
  const ends: Rational[] = []
  piece.voices.forEach((voice, v) => {
    const reading = readings.find(one => one.label === voice.label)!
    const signs = new Map<string, SignReading>(reading.signs.map(sign => [sign.id, sign]))
    const read = voice.figures.slice(0, voice.end).map((_, i) => signs.get(`v${v}-${i}`)!.duration)
    ends.push(sum(read))
    voice.figures.slice(0, voice.end).forEach(({ lasts }, i) => {
      const sign = signs.get(`v${v}-${i}`)!
      const wrong = equals(over(sign.duration, breveOf(reading)), over(lasts, breveMeant(voice, repertory))) ? 0 : 1
      const sure = sign.doubt < 0.05 ? 1 : 0
      if (wrong) faults.push({ voice, at: i, read: toText(sign.duration), rule: sign.rule, doubt: sign.doubt })
      counted.notes++
      counted.wrong += wrong
      counted.sure += sure
      counted.sureWrong += sure * wrong
    })
  })
  return { ...counted, meets: ends.every(end => equals(end, ends[0]!)), faults }
}

/** Where minims are written they are the measure of all. */
function breveOf({ unit, practice, mensurations }: Reading): Rational {
  if (unit === "tempus" || practice.options["minims"] === "written") return ONE
  return times(ratio(mensurations[0]!.tempus ?? 2), ratio(mensurations[0]!.prolatio ?? 2))
}

function breveMeant({ mensuration }: MotetVoice, repertory: Repertory): Rational {
  return repertory === "c1320" ? ratio((mensuration.tempus ?? 2) * (mensuration.prolatio ?? 2)) : ONE
}
