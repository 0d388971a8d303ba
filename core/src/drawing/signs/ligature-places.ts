/** Where the heads of a ligature stand, in staff spaces, and how high its notes are against each other, whatever the clef. */
import type { Ligature, Note, Step } from "../../page/index.js"
import { LOZENGE_WIDTH } from "./heads.js"
import { headWidth, levelOf } from "./notes.js"
import { isLozenge } from "./stems.js"

const STEPS: readonly Step[] = ["c", "d", "e", "f", "g", "a", "b"]
/** Degrees above c of octave 0; a note without pitch stands where c of octave 4 does. */
export const positionIn = ({ pitch }: Note): number =>
  pitch === undefined ? 28 : pitch.octave * 7 + STEPS.indexOf(pitch.step)

export interface Placed {
  readonly note: Note
  readonly position: number
  /** Left and right edge of the head, or of this note's half of an oblique. */
  readonly left: number
  readonly right: number
  readonly shape: "square" | "lozenge" | "oblique-begin" | "oblique-end"
  /** Half of the height of a square head. */
  readonly half: number
  /** A rest or a foreign sign stands before it: its body does not touch the one before. */
  readonly apart: boolean
}

/** Neighbouring bodies share the line between them. */
const OVERLAP = 0.14
/** Room for a sign that is no note between two notes. */
const GAP = 1
/** From one lozenge of a conjunctura to the next. */
const CURRENS = 1.04
const BESIDE = 0.06
const HALF = 0.5
const OBLIQUE = 0.47
/** Two heads a step apart, one above the other, are flat, so that a hair of ground is left between them. */
const FLAT = 0.2
/** An oblique is the longer the further it falls or rises. */
const obliqueWidth = (steps: number): number => 1.9 + 0.2 * Math.abs(steps)

/** The notes, formed as they are to be drawn, from `start` on. */
export function placeNotes(
  ligature: Ligature,
  notes: readonly Note[],
  positionOf: (note: Note) => number,
  start: number,
): Placed[] {
  const apart = notesAfterRests(ligature)
  const places: Placed[] = []
  notes.forEach((note, i) => {
    const before = places[i - 1]
    const next = notes[i + 1]
    const steps = note.oblique && next ? positionOf(next) - positionOf(note) : undefined
    const placed = placeNote({ note, position: positionOf(note), before, steps, apart: apart.has(i), start, ligature })
    if (before && placed.half === FLAT) places[i - 1] = { ...before, half: FLAT }
    places.push(placed)
  })
  return places
}

function notesAfterRests({ members }: Ligature): ReadonlySet<number> {
  const found = new Set<number>()
  let at = 0
  members.forEach((member, i) => {
    if (member.kind !== "note") return
    if (members[i - 1]?.kind === "rest") found.add(at)
    at++
  })
  return found
}

interface Asked {
  readonly note: Note
  readonly position: number
  readonly before: Placed | undefined
  /** Of an oblique that begins here: how far it rises. */
  readonly steps: number | undefined
  readonly apart: boolean
  readonly start: number
  readonly ligature: Ligature
}

function placeNote(asked: Asked): Placed {
  const { note, position, before, steps, apart, ligature } = asked
  const at = (left: number, width: number, shape: Placed["shape"], half: number): Placed => ({
    note,
    position,
    left,
    right: left + width,
    shape,
    half,
    apart,
  })
  if (before?.shape === "oblique-begin") return at(before.right, before.right - before.left, "oblique-end", OBLIQUE)
  const left = leftOf(asked)
  if (steps !== undefined) return at(left, obliqueWidth(steps) / 2, "oblique-begin", OBLIQUE)
  if (ligature.conjunctura && isLozenge(levelOf(note))) return at(left, LOZENGE_WIDTH, "lozenge", HALF)
  const width = headWidth(note, note.wide || note.level === "maxima" ? "maxima" : "brevis")
  if (before && isOver(asked))
    return at(before.right - width, width, "square", position - before.position > 1 ? HALF : FLAT)
  return at(left, width, "square", HALF)
}

const isOver = ({ note, position, before }: Asked): boolean =>
  before !== undefined && note.head === "over" && position > before.position

function leftOf({ note, before, apart, start, ligature }: Asked): number {
  if (before === undefined) return start
  if (apart) return before.right + GAP
  if (!ligature.conjunctura) return before.right - OVERLAP
  const lozenge = isLozenge(levelOf(note))
  if (lozenge && before.shape === "lozenge") return before.left + CURRENS
  return lozenge || before.shape === "lozenge" ? before.right + BESIDE : before.right - OVERLAP
}
