/** Voices in which something is lost: what the gaps lasted is tried, and what meets and sounds best is read. */
import { compare, minus, over, plus, ratio, times, toNumber, ZERO, type Rational, type SignId } from "../base/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import { LACUNA } from "../reading/stretches.js"
import { breaksOff, gapLengths, gapsOf, gapsTold, lengthsLeft, type KnownBy } from "./gaps.js"
import { Ensemble, type SungSoFar } from "./ensemble.js"
import { sounding, type Once } from "./hearing.js"

export type Gaps = ReadonlyMap<SignId, Rational>
/** Voices with gaps of such lengths, and what they cost with the intervals between those whose gaps are all known. */
type Reader = (gaps: Gaps) => Heard
interface Heard {
  readonly worked: readonly WorkedVoice[]
  readonly cost: number
}

/** Ways to share out a length between one gap and those after it that are tried at once; then those near the best. */
const MOST_SHARES = 16
/** Lengths that are shared out, the likeliest. */
const MOST_SHARED = 2

/**
 * What the gaps of each voice lasted: together, as long as the voices without gaps leave for them. How that is shared out between
 * several, and which of several lengths it is, is asked of the sound: what is read with each is heard. Intervals are trusted alike
 * for that: where they fit ill they would be trusted less, and so cost less. Where something is lost in every voice the length of
 * the piece is asked of the sound too: where one has its gap the others are whole.
 */
export function gapsBetween(first: Once, known: Gaps, read: Reader): { readonly gaps: Gaps; readonly by: KnownBy } {
  const holed = first.worked.filter(one => gapsOf(one).length > 0)
  const under = (goal: Rational): Tried =>
    holed.reduce((before, voice) => withGapsOf(voice, goal, before, read), {
      worked: first.worked,
      cost: 0,
      gaps: known,
    })
  const goal = goalOf(first)
  if (goal !== undefined) return { gaps: under(goal).gaps, by: "length" }
  const tried = goalsOf(holed).map(under)
  const best = cheapest(tried)
  if (best === undefined) return { gaps: known, by: "length" }
  const isTold = tried.every(one => one === best || one.cost - best.cost > TOLD_BY_SOUND)
  return { gaps: best.gaps, by: isTold ? "sound" : "least" }
}

/** By so much (natural logarithm of odds) one length has to sound better than all others to be told as what was heard (1 : 7, an estimate). */
const TOLD_BY_SOUND = 2
/** Lengths of the piece that are tried where something is lost in every voice. */
const MOST_LENGTHS = 24

/**
 * When the finals may begin where something is lost in every voice: something is lost in each gap, and the voice that is longest as
 * it stands goes on after its gap at the beginning of a measure. The shortest first.
 */
function goalsOf(holed: readonly WorkedVoice[]): Rational[] {
  const left = holed.flatMap(voice =>
    lengthsLeft(voice)
      .slice(0, 1)
      .map(lasts => ({ voice, lasts })),
  )
  // what breaks off has nothing after it that could stand wrong
  const bound = left.filter(({ voice }) => !breaksOff(voice.reading, partedGaps(voice).at(-1)!))
  if (bound.length === 0) return []
  const { voice, lasts } = left.reduce((a, b) => (compare(b.lasts, a.lasts) > 0 ? b : a))
  const gap = partedGaps(voice)[0]!
  const most = times(measureAt(voice, gap), ratio(MOST_LENGTHS + 1))
  const apart = holed.reduce((sum, one) => sum + partedGaps(one).length - 1, 0)
  return wholeMeasures(voice, { worked: holed, cost: 0 }, gap, most)
    .slice(0, Math.ceil(MOST_LENGTHS / (1 + apart)))
    .map(lost => plus(lasts, lost))
}

/** Readings with what was supposed of their gaps told. */
export const withGapsTold = (once: Once, by: KnownBy): Once => ({
  ...once,
  readings: once.readings.map((one, i) => gapsTold(one, gapsOf(once.worked[i]!), by)),
})

/** Nothing is lost in the voice, or it is known how much. */
const isWhole = (one: WorkedVoice, gaps: Gaps): boolean => partedGaps(one).every(gap => gaps.has(gap))

/** Voices whose gaps are all known, heard at a glance. */
export function heardAtAGlance(worked: readonly WorkedVoice[], gaps: Gaps, sung: SungSoFar): Heard {
  const whole = sounding(worked.filter(one => isWhole(one, gaps)))
  const ensemble = new Ensemble(whole, new Map(), sung)
  return { worked, cost: ensemble.atAGlance(whole.map((_, i) => i)) + ensemble.ownCost }
}

/** When the final of a voice without gaps begins. */
function goalOf({ readings, worked, meeting }: Once): Rational | undefined {
  const whole = readings.filter((one, i) => gapsOf(worked[i]!).length === 0 && !one.canon)
  const model = whole.find(one => meeting.includes(one.voice)) ?? whole[0]
  return model?.signs.findLast(sign => sign.held)?.onset
}

interface Tried extends Heard {
  readonly gaps: Gaps
}

function withGapsOf(voice: WorkedVoice, goal: Rational, before: Tried, read: Reader): Tried {
  const gaps = partedGaps(voice)
  const lengths = gapLengths(voice, goal)
  const tried = lengths
    .slice(0, gaps.length > 1 ? MOST_SHARED : lengths.length)
    .map(length => shared(voice, gaps, length, before, read))
  return cheapest(tried) ?? before
}

/** What gaps last together, shared out one by one: each takes its share, and the next has, for now, all that is left. */
function shared(voice: WorkedVoice, gaps: readonly SignId[], length: Rational, before: Tried, read: Reader): Tried {
  const lasting = (known: Gaps, ...shares: [SignId, Rational][]): Tried => {
    const all = new Map([...known, ...shares])
    return { ...read(all), gaps: all }
  }
  let left = length
  let best = lasting(before.gaps, [gaps[0]!, left])
  for (let i = 0; i + 1 < gaps.length; i++) {
    const [own, next] = [gaps[i]!, gaps[i + 1]!]
    const known = best.gaps
    const all = left
    const share = (lasts: Rational): Tried => lasting(known, [own, lasts], [next, minus(all, lasts)])
    best = bestShare(wholeMeasures(voice, best, own, all), share)
    left = best.gaps.get(next)!
  }
  return best
}

/** A few that lie wide apart are tried first, then those beside the best of them. */
function bestShare(shares: readonly Rational[], share: (lasts: Rational) => Tried): Tried {
  const stride = Math.ceil(shares.length / MOST_SHARES)
  const at = (i: number) => ({ i, tried: share(shares[i]!) })
  const wide = shares.flatMap((_, i) => (i % stride === 0 ? [at(i)] : []))
  const found = wide.reduce((a, b) => (b.tried.cost < a.tried.cost ? b : a))
  const near = shares.flatMap((_, i) => (i !== found.i && Math.abs(i - found.i) < stride ? [at(i).tried] : []))
  return cheapest([found.tried, ...near])!
}

/** Lengths after which the voice goes on at the beginning of a measure, as counting does after a gap; something is lost in each. */
function wholeMeasures(voice: WorkedVoice, { worked }: Heard, gap: SignId, most: Rational): Rational[] {
  const own = worked.find(one => one.voice.id === voice.voice.id)
  const onset = own?.reading.signs.find(sign => sign.id === gap)?.onset ?? ZERO
  const measure = measureAt(voice, gap)
  const begun = minus(onset, times(measure, ratio(Math.floor(toNumber(onset) / toNumber(measure) + 1e-9))))
  const first = begun.num === 0 ? ZERO : minus(measure, begun)
  const lengths: Rational[] = []
  for (let length = first; compare(length, most) < 0; length = plus(length, measure))
    if (length.num > 0) lengths.push(length)
  return lengths.length > 0 ? lengths : [times(most, ratio(1, 2))]
}

/** What the voice counts in where the gap stands: a perfection of its longs, or a breve. */
function measureAt({ cut, settled, chosen }: WorkedVoice, gap: SignId): Rational {
  const at = cut.entries.find(one => one.sign.id === gap)!.stretch
  const {
    modusMinor,
    tempus,
    prolatio,
    ratio: proportion,
  } = settled[Math.min(at, settled.length - 1)]!.stretch.measuring
  return over(ratio(chosen.practice.unit === "tempus" ? modusMinor : tempus * prolatio), proportion)
}

/** The gaps of a voice; of those that nothing sung or silent stands between, the first. */
function partedGaps({ cut }: WorkedVoice): SignId[] {
  let apart = true
  return cut.entries.flatMap(({ sign, takenFor, figure }) => {
    if (figure >= 0) apart = true
    if (takenFor !== LACUNA || !apart) return []
    apart = false
    return [sign.id]
  })
}

const cheapest = (tried: readonly Tried[]): Tried | undefined =>
  tried.length === 0 ? undefined : tried.reduce((a, b) => (b.cost < a.cost ? b : a))
