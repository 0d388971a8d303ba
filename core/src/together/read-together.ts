/** All voices of a page read together: what one leaves open the others decide, where they can. */
import { equals, type Rational, type SignId, type VoiceId } from "../base/index.js"
import { counterpointOf, MISSED_MEETING, tempered, type CounterpointWeights } from "../counterpoint/index.js"
import type { Page } from "../page/index.js"
import { workVoice, toldAnew, withStrays, type WorkedVoice } from "../reading/read-voice.js"
import { withPageOptions } from "../reading/rulings.js"
import type { OthersReason, Reading, SignReading } from "../reading/types.js"
import type { ReadOptions } from "../reading/settings.js"
import { commonUnit } from "../score/units.js"
import { gapLengths, gapsOf, withGapsTold } from "./gaps.js"
import { Likelihoods } from "./likelihoods.js"
import { withDoubts } from "./mensuration/doubts.js"
import { withMensurationsTold } from "./mensuration/told.js"
import { assumedFor } from "./mensuration/find.js"
import { meetingsOf } from "./meetings.js"
import { Reasons } from "./reasons.js"
import { disagreements, expectedByRepeats, expecting } from "./repeats.js"
import { blocksAnew } from "./retell.js"
import { scalesWanted, withScaleTold } from "./scaled.js"
import { temperOf } from "./temper.js"
import { otherOptions, sharedOf, sharedOptions } from "./shared.js"
import { searchTogether, type Joint } from "./search.js"
import { graphOf, scalesOf, type VoiceGraph } from "./voice-graph.js"

export interface Together {
  /** In the page's order. */
  readonly readings: readonly Reading[]
  /** Natural logarithm of odds of the whole, rules, intervals and partings: lower is likelier. */
  readonly cost: number
  /** Voices that meet at their finals. */
  readonly meeting: readonly VoiceId[]
  /** What each voice was decided from, for reading again after an edit. */
  readonly worked: readonly WorkedVoice[]
  /** What was found out of voices that do not state their practice or mensuration. */
  readonly assumed: NonNullable<ReadOptions["assumed"]>
}

/** Reads all voices of the page together; after an edit give what was read before, so that less is worked out again. */
export function readTogether(page: Page, options: ReadOptions = {}, before?: Together): Together {
  const assumed = options.assumed ?? (before && isUnaltered(page, before) ? before.assumed : assumedFor(page, options))
  const best = readBest(page, { ...options, assumed }, before)
  const doubted = best.readings.map(reading => withDoubts(reading, assumed))
  // those who read again and again to try something have given what is shared, and ask for no more than the readings
  const told = options.shared === undefined ? withMensurationsTold(page, doubted, { ...options, assumed }) : doubted
  const found = { ...best, readings: told, assumed }
  return page.decisions === undefined ? found : { ...found, readings: withStrays(page, found.readings) }
}

/** Only decisions may have changed: what was found out from the signs still holds. */
const isUnaltered = (page: Page, { worked }: Together): boolean =>
  page.voices.length === worked.length && page.voices.every((voice, i) => voice === worked[i]!.voice)

function readBest(page: Page, options: ReadOptions, before?: Together): Once {
  const found = readWhole(page, options, before)
  return found.worked.some(one => gapsOf(one).length > 0) ? withGaps(page, options, found) : found
}

/** A gap lasts as long as the voices without gaps leave for it; of several lengths the one that sounds best. */
function withGaps(page: Page, options: ReadOptions, first: Once): Once {
  let best = first
  const model = first.readings.find(
    (one, i) => gapsOf(first.worked[i]!).length === 0 && first.meeting.includes(one.voice) && !one.canon,
  )
  const goal = model?.signs.findLast(sign => sign.held)?.onset
  for (const one of goal === undefined ? [] : first.worked) {
    const [gap, ...more] = gapsOf(one)
    if (gap === undefined || more.length > 0) continue
    const known = best
    for (const length of gapLengths(one, goal!)) {
      const gaps = new Map([...(options.gaps ?? []), [gap, length] as const])
      const other = readWhole(page, { ...options, shared: sharedOf(first.worked), gaps })
      if (best === known || other.cost < best.cost) best = other
    }
  }
  return { ...best, readings: best.readings.map((one, i) => withGapsTold(one, gapsOf(best.worked[i]!))) }
}

function readWhole(page: Page, options: ReadOptions, before?: Together): Once {
  const first = withRepeats(page, readOnce(page, options, before))
  if (first.meeting.length === sounding(first.worked).length) return first
  return withScaled(page, options, withOtherOptions(page, options, first))
}

type Once = Omit<Together, "assumed">

function readOnce(page: Page, options: ReadOptions, before?: Together): Once {
  const shared = options.shared ?? sharedOptions(page, options)
  const own = withPageOptions(page, { ...options, shared })
  const worked = page.voices.map(voice =>
    workVoice(
      voice,
      own,
      before?.worked.find(one => one.voice.id === voice.id),
    ),
  )
  return together(worked)
}

/** Where the statements of a tenor disagree though they are written alike, they are made to agree if that costs little. */
function withRepeats(page: Page, first: Once): Once {
  const expected = expectedByRepeats(page, first.readings)
  if (expected === undefined) return first
  const other = together(first.worked, expected)
  const better = disagreements(page, other.readings) < disagreements(page, first.readings)
  return better && other.meeting.length >= first.meeting.length ? other : first
}

/** Options that are inferred may have been inferred wrongly, if the voices do not meet by them but by others. */
function withOtherOptions(page: Page, options: ReadOptions, first: Once): Once {
  let best = first
  for (const shared of otherOptions(first.worked)) {
    const other = readOnce(page, { ...options, shared })
    if (other.meeting.length > best.meeting.length) best = other
  }
  return best
}

/** A voice that would meet the others in other values than it is written in is read so, and that is told. */
function withScaled(page: Page, options: ReadOptions, first: Once): Once {
  const scaled = scalesWanted(first)
  if (scaled.size === 0) return first
  const other = readOnce(page, { ...options, shared: sharedOf(first.worked), scaled })
  // the place that is no longer missed is not enough: it must not sound worse either
  if (other.meeting.length <= first.meeting.length || other.cost + MISSED_MEETING > first.cost) return first
  return { ...other, readings: other.readings.map(reading => withScaleTold(reading, scaled.get(reading.voice))) }
}

const sounding = (worked: readonly WorkedVoice[]): WorkedVoice[] =>
  worked.filter(one => one.settled.some(({ stretch }) => stretch.figures.length > 0))

function together(worked: readonly WorkedVoice[], expected: ReadonlyMap<SignId, Rational> = new Map()): Once {
  const heard = sounding(worked)
  const ensemble = new Ensemble(heard, expected)
  const all = heard.map((_, i) => i)
  const first = ensemble.search(all)
  const told = ensemble.meeting(first).length === all.length ? first : ensemble.searchWithout(all, first)
  const fitting = ensemble.meeting(told)
  const readings = new Map<WorkedVoice, Reading>()
  for (const [i, reading] of ensemble.tell(told)) readings.set(heard[i]!, reading)
  return {
    // a voice that misses the others is read by itself: laid beside them at the wrong place it would be misled
    readings: worked.map(one => readings.get(one) ?? one.reading),
    cost: first.joint.cost + ensemble.ownCost,
    meeting: fitting.map(i => heard[i]!.voice.id),
    worked,
  }
}

/** Some of the voices, searched together. */
interface Searched {
  readonly members: readonly number[]
  readonly graphs: readonly VoiceGraph[]
  readonly weights: CounterpointWeights
  readonly joint: Joint
  /** By member and figure. */
  readonly likelihoods: Likelihoods["found"]
}

/** A piece whose intervals may be trusted so far is heard as usual. */
const AS_USUAL = 0.95

/** In longer pieces the first voice without which the others meet is taken for the one that does not fit. */
const LONG_PIECE = 3000

class Ensemble {
  private readonly graphs: readonly VoiceGraph[]
  readonly ownCost: number

  constructor(
    private readonly voices: readonly WorkedVoice[],
    private readonly expected: ReadonlyMap<SignId, Rational>,
  ) {
    const { factor } = commonUnit(voices.map(one => one.reading))
    const scales = scalesOf(voices, one => factor(one.reading))
    this.graphs = voices.map((one, i) => expecting(graphOf(one, scales[i]!), expected))
    this.ownCost = this.graphs.reduce((sum, graph) => sum + graph.cost, 0)
  }

  search(some: readonly number[]): Searched {
    const members = inOrder(some, this.graphs)
    const first = this.searchBy(members, this.weightsOf(members))
    const open = (v: number, figure: number): boolean => (first.likelihoods[v]![figure]?.length ?? 0) > 1
    if (!first.likelihoods.some((own, v) => own.some((_, figure) => open(v, figure)))) return first
    const temper = temperOf(first.weights, first.graphs, first.joint, open)
    return temper > AS_USUAL ? first : this.searchBy(members, tempered(first.weights, temper))
  }

  private searchBy(members: readonly number[], weights: CounterpointWeights): Searched {
    const graphs = members.map(i => this.graphs[i]!)
    const likelihoods = new Likelihoods(graphs)
    const joint = searchTogether({ graphs, weights, meetings: meetingsOf(graphs) }, window => likelihoods.add(window))
    return { members, graphs, weights, joint, likelihoods: likelihoods.found }
  }

  /**
   * Where not all meet: without the one voice that lets all others meet (of several, without the one whose absence strains
   * them least); failing that, those that meet in the search of all. So a voice that does not fit disturbs none that do.
   */
  searchWithout(all: readonly number[], first: Searched): Searched {
    const met = new Set(this.meeting(first))
    const order = [...all].sort((a, b) => Number(met.has(a)) - Number(met.has(b)))
    const figures = all.reduce((sum, i) => sum + this.graphs[i]!.figures, 0)
    let best: { readonly searched: Searched; readonly strain: number } | undefined
    for (const out of all.length > 2 ? order : []) {
      if (best !== undefined && figures > LONG_PIECE) break
      const searched = this.search(all.filter(i => i !== out))
      if (this.meeting(searched).length < all.length - 1) continue
      const strain = searched.joint.chosen.flat().reduce((sum, way) => sum + way.cost, 0)
      if (best === undefined || strain < best.strain) best = { searched, strain }
    }
    if (best !== undefined) return best.searched
    const fitting = this.meeting(first)
    return fitting.length > 1 ? this.search(fitting) : first
  }

  /** The concords of the practice that most of the voices have; of two with as many, of the first by name. */
  private weightsOf(members: readonly number[]): CounterpointWeights {
    const names = members.map(i => this.voices[i]!.chosen.practice.name).sort()
    const count = (name: string): number => names.filter(other => other === name).length
    return counterpointOf(names.sort((a, b) => count(b) - count(a))[0] ?? "")
  }

  /** The largest number of voices whose finals begin together; those without a final note are counted with them. */
  meeting({ members, joint }: Searched): number[] {
    const { finals } = joint
    let best: number[] = []
    for (const time of finals) {
      const fitting = members.filter((_, i) => finals[i] === undefined || finals[i] === time)
      if (fitting.length > best.length) best = fitting
    }
    return best.sort((a, b) => a - b)
  }

  /** The readings of the voices that were searched. */
  tell({ members, graphs, weights, joint, likelihoods }: Searched): [number, Reading][] {
    const reasons = new Reasons(graphs, joint, weights)
    return members.map((member, i) => {
      const worked = this.voices[member]!
      const blocks = blocksAnew(graphs[i]!, joint.chosen[i]!, likelihoods[i]!)
      return [member, byOthers(worked.reading, toldAnew(worked, blocks), () => reasons.of(i), this.expected)]
    })
  }
}

/** A canonical order, so that the order in the file says nothing: fewest ways first, then by size and name. */
function inOrder(members: readonly number[], graphs: readonly VoiceGraph[]): number[] {
  const ways = graphs.map(graph => graph.ways.reduce((sum, list) => sum + list.length, 0) - graph.figures)
  const label = (i: number): string => `${graphs[i]!.worked.voice.label} ${graphs[i]!.worked.voice.id}`
  return [...members].sort(
    (a, b) =>
      ways[a]! - ways[b]! ||
      graphs[a]!.figures - graphs[b]!.figures ||
      (label(a) < label(b) ? -1 : label(a) > label(b) ? 1 : a - b),
  )
}

/** A doubt that the voice alone had, and so much smaller a one now: the others settled it. */
const SETTLED_FROM = 0.1
const SETTLED_BY = 0.5

/** Marks what the other voices decided. */
function byOthers(
  alone: Reading,
  reading: Reading,
  reasons: () => ReadonlyMap<SignId, OthersReason>,
  expected: ReadonlyMap<SignId, Rational>,
): Reading {
  let known: ReadonlyMap<SignId, OthersReason> | undefined
  const signs = reading.signs.map((sign, i): SignReading => {
    const before = alone.signs[i]!
    if (sign.decidedBy !== "voice" || sign.number === 0) return sign
    const overruled = !equals(before.duration, sign.duration)
    const settled = before.doubt >= SETTLED_FROM && sign.doubt <= SETTLED_BY * before.doubt
    if (!overruled && !settled) return sign
    const repeated = expected.get(sign.id)
    const reason: OthersReason | undefined =
      repeated !== undefined && equals(repeated, sign.duration)
        ? { how: "repeat", voices: [], signs: [] }
        : (known ??= reasons()).get(sign.id)
    if (reason === undefined) return sign
    return { ...sign, decidedBy: "others", others: { ...reason, ...(overruled ? { alone: before.duration } : {}) } }
  })
  return { ...reading, signs }
}
