/** By need: unisons, octaves and fifths that would be false, and tritones within a voice. */
import { compare } from "../base/index.js"
import { intervalName, intervalOf, type Interval } from "./intervals.js"
import type { Contact, FictaNote } from "./notes.js"
import { distinct, farness, unsung, type Change, type Plan } from "./plan.js"
import { lower, type Finding, type Grading } from "./finding.js"
import type { FictaGrade, FictaRule } from "./types.js"

/** A remedy may take so many other notes with it: beyond that singers would rather have borne the interval (inference). */
const LONGEST_CHAIN = 6

/** A note that comes again at once after an accidental of the source: the sign holds on. */
export function repeatedNotes(plan: Plan): Finding[] {
  return plan.voices.flat().flatMap((note): Finding[] => {
    const { before } = note
    if (!before?.fixed || note.fixed || before.height !== note.height || plan.alterOf(note) === before.alter) return []
    const base = { rule: "repeated-note" as const, interval: "chromatic semitone", of: note, against: before }
    const changes = plan.remedy({ note, alter: before.alter }, LONGEST_CHAIN)
    if (!changes) return [{ ...base, changes: [], grade: "required" as const }]
    plan.take(changes)
    return [{ ...base, changes, grade: distinct(changes.map(one => one.note)) <= 2 ? "required" : "likely" }]
  })
}

/** False perfect intervals at simultaneous beginnings, one after another, each on top of what was proposed before. */
export function falseIntervals(plan: Plan, grading: Grading): Finding[] {
  return inOrder(plan).flatMap((contact): Finding[] => {
    const interval = plan.intervalIn(contact)
    if (Math.abs(interval.excess) !== 1 || !plan.isStrict(contact, interval)) return []
    const rule: FictaRule =
      interval.steps === 0 ? "false-octave" : interval.steps === 4 ? "false-fifth" : "false-fourth"
    const base = { rule, interval: intervalName(interval), of: contact.upper, against: contact.lower }
    const best = bestRemedy(plan, bothWays(contact, interval), grading)
    if (!best) return [{ ...base, changes: [], grade: "required" as const }]
    const resolving = resolves(plan, contact, interval) || unsung(plan, best.changes) > 0
    const grade = gradeOf(contact, best.changes, resolving, grading)
    const [of, against] = best.seed === contact.upper ? [contact.upper, contact.lower] : [contact.lower, contact.upper]
    plan.take(best.changes)
    return [{ ...base, of, against, changes: best.changes, grade }]
  })
}

/** In time; at one moment octaves go before fifths, and what the source has fixed before the rest. */
function inOrder({ contacts }: Plan): Contact[] {
  const rank = ({ lower: low, upper: high }: Contact) =>
    ((high.height - low.height) % 7 === 0 ? 0 : 2) + (low.fixed || high.fixed ? 0 : 1)
  return contacts.toSorted((a, b) => compare(a.at, b.at) || rank(a) - rank(b))
}

function bothWays({ lower, upper }: Contact, { excess }: Interval) {
  return { upper, lower, excess }
}

interface Choice {
  readonly seed: FictaNote
  readonly changes: readonly Change[]
}

/** Either note can give way; the remedy that lies nearest to what singers did is taken. */
function bestRemedy(
  plan: Plan,
  { upper, lower, excess }: { upper: FictaNote; lower: FictaNote; excess: number },
  { plainsong }: Grading,
): Choice | undefined {
  const seeds: Change[] = [
    { note: upper, alter: plan.alterOf(upper) - excess },
    { note: lower, alter: plan.alterOf(lower) + excess },
  ]
  const cost = (changes: readonly Change[], second: boolean) =>
    changes.reduce((sum, change) => sum + farness(change) + (change.alter > 0 ? 1.5 : 0), 0) +
    changes.filter(({ note }) => plainsong.has(note.voice)).length * 3 +
    unsung(plan, changes) * 3 +
    (second ? 0.5 : 0)
  const choices = seeds.flatMap((seed, i) => {
    const changes = plan.remedy(seed, LONGEST_CHAIN)
    return changes ? [{ seed: seed.note, changes, cost: cost(changes, i > 0) }] : []
  })
  return choices.sort((a, b) => a.cost - b.cost)[0]
}

/** A single note asked for where the beat begins is required; a chain, a quick note or an interval that resolves is less. */
function gradeOf(
  { lower: low, upper: high }: Contact,
  changes: readonly Change[],
  resolving: boolean,
  grading: Grading,
) {
  const size = distinct(changes.map(({ note }) => note))
  let grade: FictaGrade = size <= 2 ? "required" : size <= 4 ? "likely" : "optional"
  const octave = (high.height - low.height) % 7 === 0
  if (!octave && Math.min(low.strength, high.strength) === 0) grade = lower(grade)
  if (resolving) grade = grading.resolvesFreely ? "optional" : lower(grade)
  return grade
}

/** A diminished fifth whose voices go on inwards, or an augmented fourth outwards, both by step. */
function resolves(plan: Plan, { lower: low, upper: high }: Contact, { steps, excess }: Interval): boolean {
  const way = steps === 4 && excess < 0 ? 1 : steps === 3 && excess > 0 ? -1 : 0
  if (way === 0 || !low.after || !high.after) return false
  return low.after.height - low.height === way && high.after.height - high.height === -way
}

/** Leaps of an augmented fourth, and runs that fill one and turn at both ends (within one voice). */
export function tritones(plan: Plan, grading: Grading): Finding[] {
  return plan.voices.flat().flatMap((first): Finding[] => {
    const found = tritoneFrom(plan, first)
    // one that a proposal has made is none of the source's
    if (!found || plan.isTaken(first) || plan.isTaken(found.last)) return []
    const { last, leap } = found
    const [low, high] = first.height < last.height ? [first, last] : [last, first]
    const base = {
      rule: leap ? ("tritone-leap" as const) : ("tritone-run" as const),
      interval: "augmented fourth",
      of: high,
      against: low,
    }
    const best = bestRemedy(plan, { upper: high, lower: low, excess: 1 }, grading)
    if (!best || distinct(best.changes.map(({ note }) => note)) > 2)
      return [{ ...base, changes: [], grade: "optional" as const }]
    plan.take(best.changes)
    const [of, against] = best.seed === high ? [high, low] : [low, high]
    return [{ ...base, of, against, changes: best.changes, grade: leap ? ("required" as const) : ("likely" as const) }]
  })
}

function tritoneFrom(plan: Plan, first: FictaNote): { last: FictaNote; leap: boolean } | undefined {
  const next = first.after
  if (!next) return undefined
  if (isTritone(plan, first, next)) return { last: next, leap: true }
  const way = next.height - first.height
  if (Math.abs(way) !== 1 || (first.before && first.height - first.before.height === way)) return undefined
  let last = first
  for (let count = 0; count < 3; count++) {
    if (last.after?.height !== last.height + way) return undefined
    last = last.after
  }
  const turns = !last.after || last.after.height - last.height !== way
  return turns && isTritone(plan, first, last) ? { last, leap: false } : undefined
}

function isTritone(plan: Plan, a: FictaNote, b: FictaNote): boolean {
  const [low, high] = a.height < b.height ? [a, b] : [b, a]
  const { steps, excess } = intervalOf(low, high, plan.alterOf)
  return high.height - low.height === 3 && steps === 3 && excess === 1
}
