/** By beauty: an imperfect interval goes to a perfect one by a semitone; a single note above la is fa. */
import { compare } from "../base/index.js"
import { lower, type Finding, type Grading } from "./finding.js"
import { intervalName, intervalOf, type Interval } from "./intervals.js"
import type { Contact, FictaNote } from "./notes.js"
import { distinct, farness, unsung, type Change, type Plan } from "./plan.js"
import type { FictaGrade, FictaRule } from "./types.js"

/** Two voices that go by step in opposite ways into a perfect interval. */
interface Progression {
  readonly rule: FictaRule
  readonly low: FictaNote
  readonly high: FictaNote
  /** Where they arrive. */
  readonly arrival: Contact
  readonly interval: Interval
  /** Semitones by which the interval is too narrow (+) or too wide (-). */
  readonly missing: number
}

/** Cadences and what is like them, strongest first, so that at one place the best has its way. */
export function cadences(plan: Plan, grading: Grading): Finding[] {
  const all = plan.contacts.flatMap(arrival => {
    const found = progressionTo(plan, arrival)
    return found ? [{ ...found, grade: gradeOf(found, grading) }] : []
  })
  const order: readonly FictaGrade[] = ["required", "likely", "optional"]
  all.sort((a, b) => order.indexOf(a.grade) - order.indexOf(b.grade) || compare(a.arrival.at, b.arrival.at))
  return all.flatMap(found => raised(plan, found, grading))
}

function progressionTo(plan: Plan, arrival: Contact): Progression | undefined {
  const perfect = plan.intervalIn(arrival)
  if (!arrival.together || perfect.excess !== 0 || (perfect.steps !== 0 && perfect.steps !== 4)) return undefined
  // in a unison the voice that comes from below is the lower one
  const [below, above] = inOrderOf(arrival, perfect)
  const [low, high] = [leadingTo(below), leadingTo(above)]
  if (!low || !high || compare(low.start, high.end) >= 0 || compare(high.start, low.end) >= 0) return undefined
  const interval = intervalOf(low, high, plan.alterOf)
  if (high.height < low.height) return undefined
  const [up, down] = [above.height - high.height, below.height - low.height]
  const kind = kindOf(interval.steps, perfect.steps, up, down)
  // thirds between upper voices go to fifths and unisons everywhere
  if (!kind || (kind.rule !== "sixth-to-octave" && !arrival.onBass)) return undefined
  const missing = kind.excess - interval.excess
  return Math.abs(missing) === 1 ? { rule: kind.rule, low, high, arrival, interval, missing } : undefined
}

function inOrderOf({ lower: low, upper: high }: Contact, { unison }: Interval): [FictaNote, FictaNote] {
  const crossed = unison && (low.before?.height ?? 0) > (high.before?.height ?? 0)
  return crossed ? [high, low] : [low, high]
}

/** By steps before and after, and which way each voice goes: what interval it should be, as excess over the major one. */
function kindOf(from: number, to: number, up: number, down: number): { rule: FictaRule; excess: number } | undefined {
  if (up === 1 && down === -1 && from === 5 && to === 0) return { rule: "sixth-to-octave", excess: 0 }
  if (up === 1 && down === -1 && from === 2 && to === 4) return { rule: "third-to-fifth", excess: 0 }
  if (up === -1 && down === 1 && from === 2 && to === 0) return { rule: "third-to-unison", excess: -1 }
  return undefined
}

/**
 * The note a step from the arrival: right before it; or before a short note that anticipates the arrival or goes down once
 * more (the cadence with the third below the final).
 */
function leadingTo(arrival: FictaNote): FictaNote | undefined {
  const last = arrival.before
  if (!last || compare(last.end, arrival.start) !== 0) return undefined
  const step = (note: FictaNote | undefined) => note !== undefined && Math.abs(note.height - arrival.height) === 1
  if (step(last)) return last
  const first = last.before
  const under = last.height === arrival.height - 2 && first?.height === arrival.height - 1
  const anticipated = last.height === arrival.height && step(first)
  return under || anticipated ? first : undefined
}

/** Likely where a phrase ends, or where a long note begins with a bar; else one may. */
function gradeOf({ rule, arrival, high }: Progression, { leading, doubleLeading }: Grading): FictaGrade {
  const { upper, lower: low } = arrival
  const ends = upper.closes || low.closes
  const rests = upper.strength === 2 && longer(upper, high)
  const grade = ends || rests ? leading : "optional"
  return rule === "third-to-fifth" && !doubleLeading ? lower(grade) : grade
}

function longer(note: FictaNote, than: FictaNote): boolean {
  const length = ({ start, end }: FictaNote) => end.num / end.den - start.num / start.den
  return length(note) >= 2 * length(than)
}

/**
 * The voice that rises is raised; only where that cannot be, and a flat is at hand, the one that falls may be lowered (the close
 * with the semitone above).
 */
function raised(plan: Plan, found: Progression & { grade: FictaGrade }, { plainsong }: Grading): Finding[] {
  const { rule, low, high, missing, interval, grade } = found
  // an earlier proposal may have changed it
  if (intervalOf(low, high, plan.alterOf).excess !== interval.excess) return []
  const rising = missing > 0 ? high : low
  const falling = missing > 0 ? low : high
  const seeds: Change[] = [
    { note: rising, alter: plan.alterOf(rising) + 1 },
    { note: falling, alter: plan.alterOf(falling) - 1 },
  ]
  const cost = (changes: readonly Change[], second: boolean) =>
    changes.reduce((sum, change) => sum + farness(change), 0) +
    changes.filter(({ note }) => plainsong.has(note.voice)).length * 3 +
    (second ? 3 : 0)
  const choices = seeds
    .flatMap((seed, i) => {
      if (i > 0 && farness(seed) > AT_HAND) return []
      const changes = withTurn(plan, plan.remedy(seed, 2), seed)
      return changes && isClean(plan, changes) ? [{ seed, changes, cost: cost(changes, i > 0) }] : []
    })
    .sort((a, b) => a.cost - b.cost)
  const best = choices[0]
  const base = { rule, interval: intervalName(interval) }
  if (!best) return [{ ...base, of: rising, against: falling, changes: [], grade, why: IN_THE_WAY }]
  plan.take(best.changes)
  const rare = farness(best.seed) > 4 || plainsong.has(best.seed.note.voice) || best.seed.note === falling
  const against = best.seed.note === rising ? falling : rising
  return [{ ...base, of: best.seed.note, against, changes: best.changes, grade: rare ? lower(grade) : grade }]
}

/** Flats on b and e. */
const AT_HAND = 2
const IN_THE_WAY = "it would make another interval false, or a step that is not sung"

/** "f e f g": the same note before a turn round it goes with it. */
function withTurn(plan: Plan, changes: Change[] | undefined, { note, alter }: Change): Change[] | undefined {
  const turn = note.before
  const same = turn && Math.abs(turn.height - note.height) === 1 ? turn.before : undefined
  if (!changes || same?.height !== note.height || plan.alterOf(same) === alter) return changes
  const also = plan.remedy({ note: same, alter }, 1)
  return also ? [...changes, ...also.filter(one => !changes.some(other => other.note === one.note))] : changes
}

/** No unison or octave becomes false against a note that is held, and nothing is sung that is not. */
function isClean(plan: Plan, changes: readonly Change[]): boolean {
  if (unsung(plan, changes) > 0) return false
  const changed = new Map(changes.map(({ note, alter }) => [note, alter]))
  return changes.every(({ note }) =>
    plan.contactsOf(note).every(contact => {
      const interval = plan.intervalIn(contact, changed)
      return interval.steps !== 0 || interval.excess === 0
    }),
  )
}

/** A note that stands alone above la, between two la: b over a; e over d where the voice sings in the soft hexachord, with b flat. */
export function notesAboveLa(plan: Plan): Finding[] {
  return plan.voices.flatMap(voice => {
    return voice.flatMap((note, at) => {
      const la = note.letter === "b" ? "a" : note.letter === "e" && isSoft(plan, voice, at) ? "d" : undefined
      const { before, after } = note
      if (!la || !before || !after || before.letter !== la || plan.alterOf(note) !== 0) return []
      if (before.height !== note.height - 1 || after.height !== before.height) return []
      const changes = plan.remedy({ note, alter: -1 }, 1)
      if (!changes || !isClean(plan, changes) || distinct(changes.map(one => one.note)) > 1) return []
      plan.take(changes)
      const grade: FictaGrade = isTop(note) ? "likely" : "optional"
      return [{ rule: "note-above-la" as const, interval: "major second", of: note, against: before, changes, grade }]
    })
  })
}

/** So many notes on each side tell the hexachord. */
const AROUND = 8

/** The b that are sung near the note are flat; where there is none near, most of the voice's are. */
function isSoft(plan: Plan, voice: readonly FictaNote[], at: number): boolean {
  const flats = (notes: readonly FictaNote[]) => {
    const own = notes.filter(({ letter }) => letter === "b")
    return { all: own.length, flat: own.filter(note => plan.alterOf(note) === -1).length }
  }
  const near = flats(voice.slice(Math.max(0, at - AROUND), at + AROUND + 1))
  if (near.all > 0) return near.flat === near.all
  const whole = flats(voice)
  return whole.flat * 2 > whole.all
}

/** Of the notes around it, up to four on each side, none is higher, and none goes below the hexachord. */
function isTop(note: FictaNote): boolean {
  const near = (next: (one: FictaNote) => FictaNote | undefined): FictaNote[] => {
    const notes: FictaNote[] = []
    for (let one = next(note); one && notes.length < 4; one = next(one)) notes.push(one)
    return notes
  }
  const around = [...near(one => one.before), ...near(one => one.after)]
  return around.every(({ height }) => height <= note.height && height >= note.height - 6)
}
