/**
 * Proposals kept from one place to the next and from one voice to the next: a cache that forgets everything when it is
 * full. They are found by the figure's kind, its place in the perfection, and so much of what stands around it as any
 * rule ever looked at for such a figure at such a place: where that is the same, rules cannot but offer the same.
 */
import type { DotMeaning, Mensuration, Practice, Settings } from "../practices/index.js"
import type { Proposal } from "./proposal.js"

/** Figures that are alike in themselves. */
export interface Kind {
  readonly own: number
  readonly full: number
  readonly cells: (Cell | undefined)[]
  readonly beside: Kind | undefined
}

/** Such figures at one place of the perfection. */
export interface Cell {
  readonly id: number
  readonly position: number
  readonly shifted: boolean
  readonly carrying: boolean
  readonly dot: DotMeaning
  /** Masks over what stands around (see `surroundings.ts`): what was looked at so far. */
  around: number
  runs: number
  /** What was found here last: often it is the same again. */
  last: Asked | undefined
  readonly beside: Cell | undefined
}

interface Asked {
  readonly cell: Cell
  readonly around: number
  readonly runs: number
  readonly proposals: readonly Proposal[]
  readonly beside: Asked | undefined
}

const KINDS = 256
const CELLS = 16
const BUCKETS = 4096
/** So many places are kept, each of some hundred bytes. */
const MOST_KEPT = 16_000

/** What is kept under one practice with its settings, and one mensuration. */
export class Kept {
  private kinds: (Kind | undefined)[] = []
  private asked: (Asked | undefined)[] = []
  private proposals = new Map<string, Proposal[]>()
  private count = 0

  constructor(
    readonly settings: Settings,
    readonly mensuration: Mensuration,
  ) {
    this.forget()
  }

  private forget(): void {
    this.kinds = new Array<Kind | undefined>(KINDS).fill(undefined)
    this.asked = new Array<Asked | undefined>(BUCKETS).fill(undefined)
    this.proposals = new Map()
    this.count = 0
  }

  kindOf(own: number, full: number): Kind {
    const bucket = mixed(own, full) & (KINDS - 1)
    for (let one = this.kinds[bucket]; one !== undefined; one = one.beside)
      if (one.own === own && one.full === full) return one
    const cells = new Array<Cell | undefined>(CELLS).fill(undefined)
    const fresh = { own, full, cells, beside: this.kinds[bucket] }
    this.kinds[bucket] = fresh
    return fresh
  }

  cellOf({ cells }: Kind, position: number, shifted: boolean, carrying: boolean, dot: DotMeaning): Cell {
    const bucket = mixed(position, 0) & (CELLS - 1)
    for (let one = cells[bucket]; one !== undefined; one = one.beside)
      if (one.position === position && one.shifted === shifted && one.carrying === carrying && one.dot === dot)
        return one
    const fresh = {
      id: this.count++,
      position,
      shifted,
      carrying,
      dot,
      around: 0,
      runs: 0,
      last: undefined,
      beside: cells[bucket],
    }
    cells[bucket] = fresh
    return fresh
  }

  find(cell: Cell, around: number, runs: number): readonly Proposal[] | undefined {
    const seenAround = around & cell.around
    const seenRuns = runs & cell.runs
    const { last } = cell
    if (last !== undefined && last.around === seenAround && last.runs === seenRuns) return last.proposals
    for (let one = this.asked[bucketOf(cell, seenAround, seenRuns)]; one !== undefined; one = one.beside)
      if (one.cell === cell && one.around === seenAround && one.runs === seenRuns) {
        cell.last = one
        return one.proposals
      }
    return undefined
  }

  /** Keeps what was proposed in view of `looked` of what stands around. */
  keep(
    cell: Cell,
    around: number,
    runs: number,
    looked: { readonly lookedAround: number; readonly lookedAtRuns: number },
    made: readonly Proposal[],
  ): readonly Proposal[] {
    if (this.count++ > MOST_KEPT) this.forget()
    cell.around |= looked.lookedAround
    cell.runs |= looked.lookedAtRuns
    const proposals = made.map(one => this.alike(one))
    const seenAround = around & cell.around
    const seenRuns = runs & cell.runs
    const bucket = bucketOf(cell, seenAround, seenRuns)
    this.asked[bucket] = { cell, around: seenAround, runs: seenRuns, proposals, beside: this.asked[bucket] }
    return proposals
  }

  /** The proposal, or the one made before that says the same. */
  private alike(made: Proposal): Proposal {
    const key = `${made.rule} ${made.ticks}`
    const others = this.proposals.get(key)
    if (others === undefined) this.proposals.set(key, [made])
    else {
      for (const one of others) if (isSame(one, made)) return one
      others.push(made)
    }
    return made
  }
}

/** Both by one rule, and of the same length. */
function isSame(a: Proposal, b: Proposal): boolean {
  return (
    a.asked === b.asked &&
    a.price === b.price &&
    a.shift === b.shift &&
    a.wall === b.wall &&
    a.openWall === b.openWall &&
    a.crosses === b.crosses &&
    a.counted === b.counted &&
    a.opening === b.opening &&
    a.offer.front === b.offer.front &&
    a.offer.back === b.offer.back &&
    a.offer.dot === b.offer.dot &&
    a.offer.overruled === b.offer.overruled
  )
}

function mixed(a: number, b: number): number {
  const h = Math.imul(a ^ (a >>> 15), 0x2c1b3c6d) ^ Math.imul(b ^ (b >>> 13), 0x297a2d39)
  return h ^ (h >>> 16)
}

const bucketOf = ({ id }: Cell, around: number, runs: number): number => mixed(mixed(id, around), runs) & (BUCKETS - 1)

const byPractice = new WeakMap<Practice, Kept[]>()
/** So many mensurations and settings of one practice at a time. */
const MOST_TABLES = 8

/** What is kept for voices of the practice read so. */
export function keptFor(practice: Practice, settings: Settings, mensuration: Mensuration): Kept {
  let all = byPractice.get(practice)
  if (all === undefined) byPractice.set(practice, (all = []))
  for (const one of all)
    if (sameMensuration(one.mensuration, mensuration) && sameSettings(one.settings, settings)) return one
  if (all.length >= MOST_TABLES) all.shift()
  const fresh = new Kept(settings, mensuration)
  all.push(fresh)
  return fresh
}

function sameSettings(a: Settings, b: Settings): boolean {
  if (a === b) return true
  for (const name in a) if (a[name] !== b[name]) return false
  for (const name in b) if (!(name in a)) return false
  return true
}

const sameMensuration = (a: Mensuration, b: Mensuration): boolean =>
  a === b ||
  (a.full.every((ticks, level) => ticks === b.full[level]) &&
    a.divisions.every((by, level) => by === b.divisions[level]) &&
    a.perfect.join() === b.perfect.join())
