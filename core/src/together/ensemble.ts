/** Voices searched together: which of them meet, and what they decide for each other. */
import { ratio, times, type Rational, type SignId, type VoiceId } from "../base/index.js"
import { counterpointOf, type CounterpointWeights } from "../counterpoint/index.js"
import { toldAnew, type WorkedVoice } from "../reading/read-voice.js"
import type { Reading } from "../reading/types.js"
import { commonUnit } from "../score/units.js"
import { Backdrop } from "./backdrop.js"
import { byOthers } from "./by-others.js"
import { withFinals } from "./finals.js"
import { toTheEnd, type Paused } from "./paused.js"
import { Reasons } from "./reasons.js"
import { expecting } from "./repeats.js"
import { blocksAnew } from "./retell.js"
import { Laid } from "./search.js"
import { remember, searchedBefore, told } from "./searches.js"
import { glanced, LONG_PIECE, searchedAsTrusted, type Asked, type Found } from "./trusted.js"
import { graphOf, scalesOf, type VoiceGraph } from "./voice-graph.js"

/** What is known so far of parts that are sung by several voices, or several times. */
export interface SungSoFar {
  /** Readings of all that sounds beside the parts as they are written. */
  readonly echoes: readonly Reading[]
  /** How much is sung after a part itself, in its unit, where that is not as it is read by itself. */
  readonly after: ReadonlyMap<VoiceId, Rational>
}

/** Some of the voices, searched together. */
export interface Searched extends Found {
  readonly members: readonly number[]
  readonly graphs: readonly VoiceGraph[]
}

/** Notes times voices from which on a search takes so long that one glances first. */
const LONG_SEARCH = 6_000

const takesLong = (graphs: readonly VoiceGraph[]): boolean =>
  graphs.reduce((sum, graph) => sum + graph.figures, 0) * graphs.length >= LONG_SEARCH

export class Ensemble {
  private readonly graphs: readonly VoiceGraph[]
  private readonly echoes: Backdrop | undefined
  /** The voices that were laid out last. */
  private laid: Laid | undefined
  readonly ownCost: number

  constructor(
    private readonly voices: readonly WorkedVoice[],
    private readonly expected: ReadonlyMap<SignId, Rational>,
    private readonly sung: SungSoFar,
  ) {
    const { echoes, after } = sung
    const { factor } = commonUnit(voices.map(one => one.reading))
    const scales = scalesOf(voices, one => factor(one.reading))
    const graphs = withFinals(voices.map((one, i) => graphOf(one, scales[i]!, after.get(one.voice.id))))
    this.graphs = graphs.map(one => expecting(one, expected))
    const common = ratio(scales[0]?.[0]?.common ?? 1)
    if (echoes.length > 0) this.echoes = new Backdrop(echoes, "", reading => times(factor(reading), common))
    this.ownCost = this.graphs.reduce((sum, graph) => sum + graph.cost, 0)
  }

  /** The same voices are not searched again: an edit of one leaves the others as they were. */
  *searching(some: readonly number[]): Paused<Searched> {
    const { members, graphs, before } = this.known(some)
    if (before !== undefined) return before
    const found = { members, graphs, ...(yield* searchedAsTrusted(this.askedOf(members, graphs))) }
    if (this.echoes === undefined) remember(found)
    return found
  }

  /**
   * What a narrow search finds in a fraction of the time, in a piece that takes long to be searched; else nothing. How far
   * its intervals may be trusted is asked only when all is searched: to search once more for that would double the wait.
   */
  glance(some: readonly number[]): Searched | undefined {
    const { members, graphs, before } = this.known(some)
    if (before !== undefined || !takesLong(graphs)) return undefined
    return { members, graphs, ...toTheEnd(glanced(this.askedOf(members, graphs))) }
  }

  /** For comparing what voices cost under several suppositions: at a glance where the search of all takes long, and always so. */
  heard(some: readonly number[]): Searched {
    const { members, graphs } = this.known(some)
    if (!takesLong(graphs)) return toTheEnd(this.searching(some))
    return { members, graphs, ...toTheEnd(glanced(this.askedOf(members, graphs))) }
  }

  /** What a narrow search of voices costs, their intervals trusted as usual. */
  atAGlance(some: readonly number[]): number {
    const { members, graphs } = this.known(some)
    return toTheEnd(glanced(this.askedOf(members, graphs))).joint.cost
  }

  get takesLong(): boolean {
    return takesLong(this.graphs)
  }

  /** The voices in the order in which they are searched, and what was found in them before. */
  private known(some: readonly number[]): Pick<Searched, "members" | "graphs"> & { before: Searched | undefined } {
    const members = inOrder(some, this.graphs)
    const graphs = members.map(i => this.graphs[i]!)
    const before = this.echoes === undefined ? searchedBefore(graphs) : undefined
    return { members, graphs, before: before && { ...before, members } }
  }

  private laidOut(graphs: readonly VoiceGraph[]): Laid {
    const isSame = this.laid?.graphs.length === graphs.length && this.laid.graphs.every((one, i) => one === graphs[i])
    return isSame ? this.laid! : (this.laid = new Laid(graphs))
  }

  private askedOf(members: readonly number[], graphs: readonly VoiceGraph[]): Asked {
    const echoes = this.echoes && ((weights: CounterpointWeights) => this.echoes!.with(weights))
    return { laid: this.laidOut(graphs), weights: this.weightsOf(members), echoes }
  }

  /**
   * Where not all meet: without the one voice that lets all others meet (of several, without the one whose absence strains
   * them least); failing that, those that meet in the search of all. So a voice that does not fit disturbs none that do.
   * Does nothing where all meet. In a long piece the first voice without which the others meet is taken for the one.
   */
  *searchingWithout(all: readonly number[], first: Searched): Paused<Searched> {
    const met = new Set(this.meeting(first))
    if (met.size === all.length) return first
    const order = [...all].sort((a, b) => Number(met.has(a)) - Number(met.has(b)))
    const figures = all.reduce((sum, i) => sum + this.graphs[i]!.figures, 0)
    let best: { readonly searched: Searched; readonly strain: number } | undefined
    for (const out of all.length > 2 ? order : []) {
      if (best !== undefined && figures > LONG_PIECE) break
      const searched = yield* this.searching(all.filter(i => i !== out))
      yield
      if (this.meeting(searched).length < all.length - 1) continue
      const strain = searched.joint.chosen.flat().reduce((sum, way) => sum + way.cost, 0)
      if (best === undefined || strain < best.strain) best = { searched, strain }
    }
    if (best !== undefined) return best.searched
    const fitting = this.meeting(first)
    return fitting.length > 1 ? yield* this.searching(fitting) : first
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
  tell(searched: Searched): [number, Reading][] {
    const { members, joint } = searched
    if (this.echoes !== undefined || this.expected.size > 0) return this.tellAnew(searched)
    const known = told.get(joint)
    if (known !== undefined) return members.map((member, i) => [member, known[i]!])
    const anew = this.tellAnew(searched)
    told.set(
      joint,
      anew.map(([, reading]) => reading),
    )
    return anew
  }

  private tellAnew({ members, graphs, weights, joint, likelihoods }: Searched): [number, Reading][] {
    const backdrop = this.echoes?.with(weights)
    const labels = [...new Set(this.sung.echoes.map(({ label }) => label))]
    const reasons = new Reasons(graphs, joint, weights, backdrop && { backdrop, labels })
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
