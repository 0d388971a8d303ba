/** General rests, which a change of one voice would spoil. */
import type { SignId, VoiceId } from "../../base/index.js"
import { toNumber } from "../../base/index.js"
import type { WorkedVoice } from "../../reading/read-voice.js"
import { commonUnit } from "../../score/units.js"
import { generalRests } from "../general-rests.js"
import { sounding } from "../hearing.js"
import { graphOf, scalesOf } from "../voice-graph.js"
import { GENERAL_REST_SPOILT } from "./weights.js"

/** By voice, the rests with which it falls silent together with all others. */
export class Silences {
  private readonly rests = new Map<VoiceId, ReadonlySet<SignId>>()

  constructor(all: readonly WorkedVoice[]) {
    const voices = sounding(all)
    if (voices.length < 2) return
    const { factor } = commonUnit(voices.map(one => one.reading))
    const scales = scalesOf(voices, one => factor(one.reading))
    const found = generalRests(voices.map((one, i) => graphOf(one, scales[i]!)))
    if (found.length === 0) return
    voices.forEach((one, i) => this.rests.set(one.voice.id, restsFrom(one, new Set(found.map(rest => rest[i]!)))))
  }

  /** What it says against a change of a voice that its rests there last otherwise (natural logarithm of odds); 0 where they do not. */
  change(before: WorkedVoice, after: WorkedVoice): number {
    const rests = this.rests.get(before.voice.id)
    if (rests === undefined) return 0
    return Math.abs(lengthOf(before, rests) - lengthOf(after, rests)) > NOTHING ? GENERAL_REST_SPOILT : 0
  }
}

const NOTHING = 1e-6

const figuresOf = ({ settled }: WorkedVoice) =>
  settled.flatMap(({ stretch }) => stretch.figures.map(figure => ({ figure, ratio: stretch.measuring.ratio })))

/** The rests at these figures, and those that follow them. */
function restsFrom(worked: WorkedVoice, first: ReadonlySet<number>): ReadonlySet<SignId> {
  const found = new Set<SignId>()
  let isSilent = false
  figuresOf(worked).forEach(({ figure }, i) => {
    isSilent = figure.rest && (isSilent || first.has(i))
    if (isSilent) found.add(figure.id)
  })
  return found
}

/** A rest lasts what it is written as, whatever stands beside it. */
const lengthOf = (worked: WorkedVoice, rests: ReadonlySet<SignId>): number =>
  figuresOf(worked).reduce(
    (sum, { figure, ratio }) => sum + (rests.has(figure.id) ? figure.full / toNumber(ratio) : 0),
    0,
  )
