/** Gaps in the source: how long they last is asked of the other voices. */
import { minus, ONE, plus, ratio, toText, ZERO, type Rational, type SignId } from "../base/index.js"
import { UNIT } from "../practices/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import { LACUNA } from "../reading/stretches.js"
import type { Reading } from "../reading/types.js"
import { lengthsOf } from "./lengths.js"
import { graphOf, scalesOf } from "./voice-graph.js"

/** Lengths of one gap that are tried. */
const MOST_TRIED = 4

/** The gaps of a voice. */
export const gapsOf = ({ cut }: Pick<WorkedVoice, "cut">): SignId[] =>
  cut.entries.flatMap(({ sign, takenFor }) => (takenFor === LACUNA ? [sign.id] : []))

/**
 * How it is known what was lost: by the length of the other voices; or, where something is lost in all, by what sounds best, or
 * only how much more one lost than another.
 */
export type KnownBy = "length" | "sound" | "least"

/** Lengths that the one gap of a voice could have for its final to begin at `goal` (in the voice's unit), the likeliest first. */
export const gapLengths = (worked: WorkedVoice, goal: Rational): Rational[] =>
  lengthsLeft(worked)
    .map(lasts => minus(goal, lasts))
    .filter(length => length.num > 0)

/**
 * How long what is left of a voice with a gap may last up to its final, the likeliest first: it may be read in more than one way.
 * Where the final is lost too, or the voice closes with rests, as long as the voice by itself is read.
 */
export function lengthsLeft(worked: WorkedVoice): Rational[] {
  const [scales] = scalesOf([worked], () => ONE)
  const graph = graphOf(worked, scales!)
  if (graph.final < 0) return [writtenOf(worked)]
  const unit = UNIT * (scales![0]?.common ?? 1)
  const lengths: [time: number, cost: number][] = []
  lengthsOf(graph).left.forEach(0, (time, cost) => lengths.push([time, cost]))
  return lengths
    .sort((a, b) => a[1] - b[1])
    .slice(0, MOST_TRIED)
    .map(([time]) => ratio(time, unit))
}

/** How long all that stands of the voice lasts. */
const writtenOf = ({ reading }: WorkedVoice): Rational =>
  reading.signs.reduce((sum, one) => (one.takenFor === LACUNA ? sum : plus(sum, one.duration)), ZERO)

const LOST_IN_ALL: Record<KnownBy, string> = {
  length: "",
  sound: ": so they sound best, though something is lost in each of them",
  least: ", and longer if more was lost of all voices, which their sound does not tell",
}

/** The reading with what was supposed of its gaps told. */
export function gapsTold(reading: Reading, gaps: readonly SignId[], by: KnownBy): Reading {
  if (gaps.length === 0) return reading
  const shared =
    gaps.length > 1 ? ", as all that is lost is best shared out between the gaps, which is far from sure" : ""
  const problems = gaps.map(id => {
    const sign = reading.signs.find(one => one.id === id)
    const known = sign !== undefined && sign.duration.num > 0
    const upTo = breaksOff(reading, id) ? ", up to their finals" : ""
    return {
      code: "gap",
      what: known
        ? `Something is lost in ${reading.label}; by the other voices it lasted ${toText(sign.duration)}${upTo}${shared}${LOST_IN_ALL[by]}.`
        : `Something is lost in ${reading.label}, and the other voices do not tell how long it lasted${upTo ? "." : ": what follows stands too early."}`,
      where: { sign: id, place: reading.label },
      mend: known
        ? "Nothing need be done, unless the source can be completed."
        : "Put rests of the length that is lost in its place, if another source tells it.",
    }
  })
  return { ...reading, problems: [...reading.problems, ...problems] }
}

/** Nothing is sung after the gap. */
export function breaksOff({ signs }: Reading, gap: SignId): boolean {
  const at = signs.findIndex(one => one.id === gap)
  return at >= 0 && !signs.slice(at + 1).some(one => one.kind === "note")
}
