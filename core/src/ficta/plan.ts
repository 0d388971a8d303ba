/** What has been proposed so far, and what another alteration would bring with it. */
import type { SignId } from "../base/index.js"
import type { ChosenAccidental } from "../page/index.js"
import { intervalOf, isPerfectKind, type Interval } from "./intervals.js"
import { contactsOf, semitonesOf, type Contact, type FictaNote } from "./notes.js"

/** A note and how it would be altered. */
export interface Change {
  readonly note: FictaNote
  readonly alter: number
}

/** Refused accidentals by sign: an editor's decisions. */
export type Refused = ReadonlyMap<SignId, readonly ChosenAccidental[]>

export class Plan {
  readonly contacts: readonly Contact[]
  readonly #byNote = new Map<FictaNote, Contact[]>()
  readonly #now = new Map<FictaNote, number>()

  constructor(
    readonly voices: readonly (readonly FictaNote[])[],
    private readonly settings: { readonly fourthIsConcord: boolean; readonly refused: Refused },
  ) {
    this.contacts = contactsOf(voices)
    for (const contact of this.contacts)
      for (const note of [contact.lower, contact.upper]) {
        const own = this.#byNote.get(note)
        if (own) own.push(contact)
        else this.#byNote.set(note, [contact])
      }
  }

  /** Alteration of a note, with what has been proposed. */
  readonly alterOf = (note: FictaNote): number => this.#now.get(note) ?? note.alter

  contactsOf(note: FictaNote): readonly Contact[] {
    return this.#byNote.get(note) ?? []
  }

  intervalIn({ lower, upper }: Pick<Contact, "lower" | "upper">, changed?: ReadonlyMap<FictaNote, number>): Interval {
    return intervalOf(lower, upper, note => changed?.get(note) ?? this.alterOf(note))
  }

  take(changes: readonly Change[]): void {
    for (const { note, alter } of changes) this.#now.set(note, alter)
  }

  isTaken(note: FictaNote): boolean {
    return this.#now.has(note)
  }

  /**
   * Must be pure: unisons and octaves; fifths (and in the thirteenth century fourths) over the lowest voice. Between upper
   * voices a false fifth or fourth is part of usual sonorities. Passing notes do not count: both begin together.
   */
  isStrict({ together, onBass }: Contact, interval: Interval): boolean {
    if (!together || !isPerfectKind(interval)) return false
    if (interval.steps === 0) return true
    return onBass && (interval.steps === 4 || this.settings.fourthIsConcord)
  }

  /** Whether a note may be altered so at all. */
  canAlter({ note, alter }: Change): boolean {
    if (note.fixed || this.#now.has(note)) return this.alterOf(note) === alter
    const accidental = accidentalFor(alter)
    if (!accidental || UNKNOWN.has(`${note.letter}${accidental}`)) return false
    return !(this.settings.refused.get(note.sign) ?? []).includes(accidental)
  }

  /**
   * All that has to be altered if this note is: notes that are sung again at once, and whatever would stand in a false
   * interval with it. Undefined where that cannot be, or would go too far.
   */
  remedy(seed: Change, most: number): Change[] | undefined {
    const changed = new Map<FictaNote, number>()
    const waiting: Change[] = [seed]
    for (let next = waiting.pop(); next; next = waiting.pop()) {
      const { note, alter } = next
      if (changed.has(note)) {
        if (changed.get(note) !== alter) return undefined
        continue
      }
      if (!this.canAlter(next)) return undefined
      if (this.alterOf(note) === alter && note !== seed.note) continue
      changed.set(note, alter)
      if (distinct(changed.keys()) > most) return undefined
      waiting.push(...this.sameNotes(note, alter), ...this.#falseWith(note, changed))
    }
    return [...changed].map(([note, alter]) => ({ note, alter }))
  }

  /** The same note right before and after it, which would make a chromatic step. */
  private sameNotes(note: FictaNote, alter: number): Change[] {
    return [note.before, note.after].flatMap(other =>
      other && other.height === note.height && this.alterOf(other) !== alter ? [{ note: other, alter }] : [],
    )
  }

  #falseWith(note: FictaNote, changed: ReadonlyMap<FictaNote, number>): Change[] {
    return this.contactsOf(note).flatMap(contact => {
      const interval = this.intervalIn(contact, changed)
      if (interval.excess === 0 || !this.isStrict(contact, interval)) return []
      const other = contact.lower === note ? contact.upper : contact.lower
      const now = changed.get(other) ?? this.alterOf(other)
      return [{ note: other, alter: now + (other === contact.upper ? -interval.excess : interval.excess) }]
    })
  }
}

/** Notes that nobody sang. */
const UNKNOWN = new Set(["cf", "ff", "es", "bs"])

const NAMES: Readonly<Record<number, ChosenAccidental>> = { "-1": "f", 0: "n", 1: "s" }
export function accidentalFor(alter: number): ChosenAccidental | undefined {
  return NAMES[alter]
}

/** Notes on one height of one voice count once. */
export function distinct(notes: Iterable<FictaNote>): number {
  return new Set([...notes].map(({ voice, height }) => `${voice} ${height}`)).size
}

/**
 * How far from what singers did first: a flat on b belongs to the system itself (musica recta), then flats on e and a and
 * sharps on f, c and g, rarely others (common practice).
 */
const FAR: Readonly<Record<string, number>> = {
  bf: 1,
  ef: 2,
  af: 3.5,
  df: 5,
  gf: 7,
  fs: 2,
  cs: 2,
  gs: 2.5,
  ds: 6,
  as: 8,
}
export function farness({ note, alter }: Change): number {
  return FAR[`${note.letter}${accidentalFor(alter)}`] ?? 2.5
}

/** Melodic steps and leaps that are not sung: augmented seconds and fourths, diminished fourths; counted anew where they are. */
export function unsung(plan: Plan, changes: readonly Change[]): number {
  const changed = new Map(changes.map(({ note, alter }) => [note, alter]))
  let count = 0
  for (const { note } of changes)
    for (const [first, second] of [
      [note.before, note],
      [note, note.after],
    ] as const) {
      if (!first || !second) continue
      const bad = (alters: (one: FictaNote) => number) => isUnsung(first, second, alters)
      if (bad(one => changed.get(one) ?? plan.alterOf(one)) && !bad(plan.alterOf)) count++
    }
  return count
}

function isUnsung(first: FictaNote, second: FictaNote, alters: (note: FictaNote) => number): boolean {
  const steps = Math.abs(second.height - first.height)
  const semitones = Math.abs(semitonesOf(second, alters(second)) - semitonesOf(first, alters(first)))
  return (
    (steps === 0 && semitones === 1) ||
    (steps === 1 && semitones > 2) ||
    (steps === 2 && semitones < 3) ||
    (steps === 3 && semitones !== 5) ||
    (steps === 4 && semitones > 7)
  )
}
