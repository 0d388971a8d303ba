/** Writes figures down as signs of a page, with pitches, words, ligatures and line ends such as a page has. */
import { over, ratio, signId, type Rational, type SignId } from "../../base/index.js"
import {
  LEVELS,
  type Ligature,
  type Note,
  type Pitch,
  type Rest,
  type Sign,
  type Step,
  type Syllable,
} from "../../page/index.js"
import { BREVIS, LONGA, SEMIBREVIS, TICKS, type Draft } from "./drafts.js"
import type { Random } from "./random.js"

export interface Hand {
  readonly prefix: string
  readonly random: Random
  /** The ink of coloured notes. */
  readonly ink: Note["coloration"]
  readonly texted: boolean
  /** Divisions are small strokes; otherwise dots. */
  readonly strokes: boolean
  /** Durations are divided by this (a cut sign). */
  readonly ratio: Rational
  readonly ligatures: number
  /** How many tempora a rest covers decides its length; by level, 0 where the name says enough. */
  readonly spacesOf: (one: Draft) => number
  /** Plain semibreves of two sizes may follow each other without a dot between, if all are pairs. */
  readonly loosePairs: boolean
  /** Groups of this size and more are fenced by dots on both sides, or every note has its syllable. */
  readonly fencedFrom: number
  /** Chance that a division that is needed is left out. */
  readonly careless: number
  /** Chance that a dot between two groups of semibreves is left out. */
  readonly undotted: number
  /** Pitches of the voice by the order of its notes and rests; a walk up and down when absent. */
  readonly pitches?: readonly (Pitch | undefined)[]
}

const STEPS: readonly Step[] = ["c", "d", "e", "f", "g", "a", "b"]
const WORDS = [
  "flos",
  "ro-",
  "sa",
  "no-",
  "va",
  "lux",
  "sur-",
  "git",
  "ma-",
  "ne",
  "can-",
  "ta",
  "li-",
  "ber",
  "quem",
  "lau-",
  "dat",
]
const SIGNS_IN_A_LINE = 48
/** Share of notes with a syllable in a voice with words. */
const SYLLABIC = 0.7

export class Writer {
  readonly signs: Sign[] = []
  readonly durations = new Map<SignId, Rational>()
  private height = 30
  private word = 0
  private serial = 0
  private inLine = 0

  constructor(private hand: Hand) {}

  /** From here on something is written otherwise. */
  turn(change: Partial<Hand>): void {
    this.hand = { ...this.hand, ...change }
  }

  id(): SignId {
    return signId(`${this.hand.prefix}${++this.serial}`)
  }

  /** Writes the figures; gives the id of the first that lasts. */
  write(drafts: readonly Draft[]): SignId {
    let first: SignId | undefined
    for (let i = 0; i < drafts.length;) {
      this.breakLine()
      const size = this.bound(drafts, i)
      const id = size > 1 ? this.ligature(drafts.slice(i, i + size)) : this.figure(drafts[i]!)
      first ??= id
      i += size
      this.after(drafts, i - 1)
    }
    return first!
  }

  private breakLine(): void {
    if (this.signs.length - this.inLine < SIGNS_IN_A_LINE) return
    this.signs.push({ kind: "break", id: this.id(), of: "line" })
    this.inLine = this.signs.length
  }

  /** How many figures from here on are written in one ligature: a longa or breve, breves, a longa or breve. */
  private bound(drafts: readonly Draft[], from: number): number {
    if (!this.hand.random.chance(this.hand.ligatures)) return 1
    const pair = isBound(drafts[from], SEMIBREVIS) && isBound(drafts[from + 1], SEMIBREVIS)
    if (pair) return 2
    const most = 2 + this.hand.random.below(3)
    let size = 1
    if (!isBound(drafts[from], LONGA, BREVIS)) return 1
    while (size < most && isBound(drafts[from + size], BREVIS)) size++
    return size < most && isBound(drafts[from + size], LONGA) ? size + 1 : size
  }

  private ligature(drafts: readonly Draft[]): SignId {
    const id = this.id()
    const members = drafts.map((one, i) => this.note(one.level, one.ticks, one, i === 0 ? SYLLABIC : 0))
    const whole: Ligature = { kind: "ligature", id, members }
    this.signs.push(whole)
    return members[0]!.id
  }

  private figure(one: Draft): SignId {
    return one.members ? this.group(one, one.members) : one.rest ? this.rest(one) : this.single(one)
  }

  private after(drafts: readonly Draft[], i: number): void {
    const one = drafts[i]!
    if (one.dotted) this.dot()
    else if (one.mark !== "none") this.division(one.mark)
    else if (this.mustPart(drafts, i)) this.dot()
  }

  private dot(): void {
    this.signs.push({ kind: "dot", id: this.id() })
  }

  private division(mark: Draft["mark"]): void {
    if (this.hand.careless > 0 && this.hand.random.chance(this.hand.careless)) return
    if (!this.hand.strokes) return this.dot()
    this.signs.push({
      kind: "stroke",
      id: this.id(),
      form: mark === "perfection" ? "signum-perfectionis" : "divisio-modi",
    })
  }

  private single(one: Draft): SignId {
    const note = this.note(one.duplex ? LONGA : one.level, one.ticks, one, SYLLABIC)
    this.signs.push(note)
    return note.id
  }

  private note(level: number, ticks: number, one: Draft, bearing: number): Note {
    const id = this.lasting(ticks)
    return {
      kind: "note",
      id,
      level: LEVELS[level]!,
      pitch: this.pitch(),
      coloration: one.coloured ? this.hand.ink : "none",
      stems: [],
      syllables: this.hand.texted && this.hand.random.chance(bearing) ? [this.syllable()] : [],
      ...(one.duplex ? { duplex: true } : {}),
    }
  }

  private lasting(ticks: number): SignId {
    const id = this.id()
    this.durations.set(id, over(ratio(ticks, TICKS), this.hand.ratio))
    return id
  }

  private rest(one: Draft): SignId {
    const id = this.lasting(one.ticks)
    const spaces = this.hand.spacesOf(one)
    const rest: Rest = {
      kind: "rest",
      id,
      level: LEVELS[one.level]!,
      coloration: "none",
      ...(spaces > 0 ? { spaces: ratio(spaces) } : {}),
    }
    this.signs.push(rest)
    return id
  }

  /** Semibreves on one breve. */
  private group(one: Draft, members: readonly number[]): SignId {
    const bound = members.length === 2 && !one.loose && this.hand.random.chance(this.hand.ligatures)
    const large = members.length >= this.hand.fencedFrom
    const plain = bound || (large && this.isFenced(one)) ? 0.1 : large ? 1 : 0.3
    // Words must not tell where a loose group begins.
    const bearing = one.loose ? 0.5 : plain
    const notes = members.map((ticks, n) =>
      this.note(SEMIBREVIS, ticks, one, n === 0 && !one.loose ? Math.max(bearing, SYLLABIC) : bearing),
    )
    if (bound) this.signs.push({ kind: "ligature", id: this.id(), members: notes })
    else this.signs.push(...notes)
    return notes[0]!.id
  }

  /** A large group without a syllable to each note stands between dots. */
  private isFenced(one: Draft | undefined): boolean {
    return (
      one?.members !== undefined &&
      !one.loose &&
      one.members.length >= this.hand.fencedFrom &&
      (!this.hand.texted || one.members.length % 2 === 1)
    )
  }

  /** A dot parts semibreves from a group that follows, most of the time or always. */
  private mustPart(drafts: readonly Draft[], i: number): boolean {
    const [one, next] = [drafts[i]!, drafts[i + 1]]
    if (one.loose && next?.loose) return false
    const both = one.members !== undefined && next?.members !== undefined
    if (both && this.hand.undotted > 0 && this.hand.random.chance(this.hand.undotted)) return false
    if (this.isFenced(one) || this.isFenced(next)) return true
    if (one.members === undefined || next?.members === undefined) return false
    if (!this.hand.loosePairs || !this.hand.random.chance(0.3)) return true
    let [from, to] = [i, i + 1]
    while (drafts[from - 1]?.members) from--
    while (drafts[to + 1]?.members) to++
    return drafts.slice(from, to + 1).some(group => group.members!.length !== 2)
  }

  /** The pitch of the note that was counted last. */
  private pitch(): Pitch {
    const given = this.hand.pitches?.[this.durations.size - 1]
    if (given !== undefined) return given
    this.height = Math.max(26, Math.min(37, this.height + this.hand.random.below(5) - 2))
    return { step: STEPS[this.height % 7]!, octave: Math.floor(this.height / 7) }
  }

  private syllable(): Syllable {
    const word = WORDS[this.word++ % WORDS.length]!
    return { stanza: 1, text: word.replace("-", ""), join: word.endsWith("-") ? "-" : " " }
  }
}

function isBound(one: Draft | undefined, ...levels: readonly number[]): boolean {
  if (one === undefined || one.rest || one.members || one.duplex || one.dotted || one.coloured || one.mark !== "none")
    return false
  return levels.includes(one.level)
}
