/** Proposals kept by what the rules see, from one voice to the next: a cache that forgets everything when it is full. */
import type { DotMeaning, Mensuration, Practice, Settings } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"
import type { Proposal } from "./proposal.js"

/** A figure between its neighbours, as far as rules see them: the same object wherever they look alike. */
export interface Surroundings {
  readonly own: number
  readonly around: number
  readonly runs: number
  readonly full: number
  /** A dot stands after the figure before. */
  readonly dotBefore: boolean
  /** A number of its own. */
  readonly id: number
  /** Another that fell together with it. */
  readonly beside: Surroundings | undefined
}

/** What was proposed at one place of the count. */
interface Asked {
  readonly of: Surroundings
  readonly position: number
  readonly shift: number
  readonly carrying: boolean
  readonly dot: DotMeaning
  readonly proposals: readonly Proposal[]
  readonly beside: Asked | undefined
}

const BUCKETS = 8192
/** So many places are kept, each some hundred bytes. */
const MOST_KEPT = 20_000

/** What is kept under one practice with its settings, and one mensuration. */
export class Kept {
  private surroundings: (Surroundings | undefined)[] = []
  private asked: (Asked | undefined)[] = []
  private count = 0
  private readonly runs = new RunNumbers()
  private proposals = new Map<string, Proposal[]>()

  constructor(
    readonly settings: Settings,
    readonly mensuration: Mensuration,
  ) {
    this.forget()
  }

  private forget(): void {
    this.surroundings = new Array<Surroundings | undefined>(BUCKETS).fill(undefined)
    this.asked = new Array<Asked | undefined>(BUCKETS).fill(undefined)
    this.proposals = new Map()
    this.runs.forget()
    this.count = 0
  }

  surroundingsOf(figures: readonly DraftFigure[], i: number): Surroundings {
    if (this.runs.full) this.forget()
    const figure = figures[i]!
    const own = ownOf(figures, i)
    const around = aroundOf(figures, i)
    const runs = this.runs.of(figure.runs)
    const { full } = figure
    const bucket = mixed(mixed(own, around), runs ^ full)
    for (let one = this.surroundings[bucket]; one !== undefined; one = one.beside)
      if (one.own === own && one.around === around && one.runs === runs && one.full === full) return one
    const beside = this.surroundings[bucket]
    const fresh = {
      own,
      around,
      runs,
      full,
      dotBefore: figures[i - 1]?.dot !== undefined,
      id: this.count++,
      beside,
    }
    this.surroundings[bucket] = fresh
    return fresh
  }

  find(
    of: Surroundings,
    position: number,
    shift: number,
    carrying: boolean,
    dot: DotMeaning,
  ): readonly Proposal[] | undefined {
    for (let one = this.asked[mixed(of.id, position + shift)]; one !== undefined; one = one.beside)
      if (
        one.of === of &&
        one.position === position &&
        one.shift === shift &&
        one.carrying === carrying &&
        one.dot === dot
      )
        return one.proposals
    return undefined
  }

  keep(
    of: Surroundings,
    position: number,
    shift: number,
    carrying: boolean,
    dot: DotMeaning,
    made: readonly Proposal[],
  ): readonly Proposal[] {
    if (this.count > MOST_KEPT) this.forget()
    this.count++
    const proposals = made.map(one => this.alike(one))
    const bucket = mixed(of.id, position + shift)
    this.asked[bucket] = { of, position, shift, carrying, dot, proposals, beside: this.asked[bucket] }
    return proposals
  }

  /** The proposal, or the one made before that says the same. */
  private alike(made: Proposal): Proposal {
    const key = `${made.rule} ${made.ticks} ${made.end}`
    const others = this.proposals.get(key)
    if (others === undefined) this.proposals.set(key, [made])
    else {
      for (const one of others) if (isSame(one, made)) return one
      others.push(made)
    }
    return made
  }
}

/** Both by one rule, and of the same length and end. */
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

const mixed = (a: number, b: number): number => {
  const h = Math.imul(a ^ (a >>> 15), 0x2c1b3c6d) ^ Math.imul(b ^ (b >>> 13), 0x297a2d39)
  return (h ^ (h >>> 16)) & (BUCKETS - 1)
}

const GIVEN = { aug: 1, div: 2, perf: 3 }
const NEAR = { previous: 1, next: 2 }

/** The figure itself as one number, so far as rules see it (see `Seen`); its full value and its runs stand apart. */
function ownOf(figures: readonly DraftFigure[], i: number): number {
  const f = figures[i]!
  return (
    f.level |
    (f.rest ? 8 : 0) |
    (f.coloured ? 16 : 0) |
    (f.duplex ? 32 : 0) |
    (f.shortLongRest ? 64 : 0) |
    (f.dot !== undefined ? 128 : 0) |
    (f.stroke !== undefined ? 256 : 0) |
    (f.strokeGroup === true ? 512 : 0) |
    (f.softWall === true ? 1024 : 0) |
    (f.dotGiven === undefined ? 0 : GIVEN[f.dotGiven] << 11) |
    (i <= 1 ? 1 << 13 : 0) |
    (closesPair(figures, i) ? 1 << 14 : 0)
  )
}

/** Those beside it as one number (see `SeenNext`, `SeenSecond`, `SeenBefore`). */
function aroundOf(figures: readonly DraftFigure[], i: number): number {
  const next = figures[i + 1]
  const second = figures[i + 2]
  const before = figures[i - 1]
  let number = 0
  if (next !== undefined)
    number =
      8 |
      next.level |
      (next.rest ? 16 : 0) |
      (next.duplex ? 32 : 0) |
      (next.shortLongRest ? 64 : 0) |
      (next.dot !== undefined ? 128 : 0) |
      (next.near === undefined ? 0 : NEAR[next.near] << 8)
  if (second !== undefined) number |= (8 | second.level | (second.dot !== undefined ? 16 : 0)) << 10
  if (before === undefined) return number
  return (
    number |
    ((8 |
      before.level |
      (before.rest ? 16 : 0) |
      (before.dot !== undefined ? 32 : 0) |
      (before.stroke !== undefined ? 64 : 0) |
      (before.strokeGroup === true ? 128 : 0) |
      (before.near === undefined ? 0 : NEAR[before.near] << 8)) <<
      15)
  )
}

/** The figure ends a ligature that the one before begins. */
export function closesPair(figures: readonly DraftFigure[], i: number): boolean {
  const figure = figures[i]!
  if (!figure.ligatureEnd) return false
  const before = figures[i - 1]
  return before !== undefined && before.ligatureStart && before.ligature === figure.ligature
}

/** So many different counts of units. */
const MOST_UNITS = 1020

/** Numbers for lists of runs that say the same. */
class RunNumbers {
  private readonly units = new Map<number, number>()
  private readonly lists = new Map<number, number>()
  private last: DraftFigure["runs"] | undefined
  private lastNumber = 0

  forget(): void {
    this.units.clear()
    this.lists.clear()
    this.last = undefined
  }

  /** More would not keep apart. */
  get full(): boolean {
    return this.units.size >= MOST_UNITS
  }

  of(runs: DraftFigure["runs"]): number {
    if (runs === this.last) return this.lastNumber
    let number = 0
    for (let level = 0; level < runs.length; level++) {
      const run = runs[level]
      if (run === undefined) continue
      const said = numberOf(this.units, run.units) * 4 + (run.alterable ? 2 : 0) + (run.startsWithRest ? 1 : 0)
      number = numberOf(this.lists, (number * 4 * (MOST_UNITS + 4) + said) * 4 + level) + 1
    }
    this.last = runs
    return (this.lastNumber = number)
  }
}

function numberOf(numbers: Map<number, number>, key: number): number {
  let known = numbers.get(key)
  if (known === undefined) numbers.set(key, (known = numbers.size))
  return known
}

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
  (a.cycle === b.cycle &&
    a.full.every((ticks, level) => ticks === b.full[level]) &&
    a.divisions.every((by, level) => by === b.divisions[level]) &&
    a.anchor.every((ticks, level) => ticks === b.anchor[level]))
