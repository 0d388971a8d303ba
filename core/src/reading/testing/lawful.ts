/**
 * For tests: voices that obey the rules, made by going the other way. Perfections are filled with durations first; then
 * the figures are written as a scribe would, with dots or strokes where the plain rules of counting would go astray.
 * Nothing here looks at how the reader decides. The same seed gives the same voice.
 */
import { ONE, ratio, voiceId, type Rational, type SignId } from "../../base/index.js"
import type { MensurationSign, Voice } from "../../page/index.js"
import { writeMarks, type Scribe } from "./dots.js"
import { BREVIS, draft, LONGA, type Draft } from "./drafts.js"
import { Filler } from "./fill.js"
import { kindOf, LAWFUL_PRACTICES, type Kind, type LawfulPractice } from "./kinds.js"
import { randomFrom, type Random } from "./random.js"
import { Writer, type Hand } from "./written.js"

export { LAWFUL_PRACTICES, type LawfulPractice } from "./kinds.js"

export interface LawfulOptions {
  /** Drawn from the seed when absent. */
  readonly practice?: LawfulPractice
  /** At least so many notes and rests (60). */
  readonly notes?: number
  /** Name of the voice ("cantus"); sign ids begin with it. */
  readonly label?: string
  /** Words under the notes; drawn from the seed when absent. */
  readonly texted?: boolean
  /** Chance that the scribe leaves out a division that is needed (0): such a voice has doubtful places. */
  readonly careless?: number
  /** Chance that a dot between two groups of semibreves is left out, which real scribes do (0). */
  readonly undotted?: number
}

export interface LawfulVoice {
  readonly practice: LawfulPractice
  readonly voice: Voice
  /** True duration of every note and rest, in the voice's unit. */
  readonly durations: ReadonlyMap<SignId, Rational>
  /** Notes and rests at which a stretch begins: everything before fills whole perfections. */
  readonly walls: readonly SignId[]
}

/** Tries at a phrase before a plain one is taken. */
const TRIES = 60

export function lawfulVoice(seed: number, options: LawfulOptions = {}): LawfulVoice {
  const random = randomFrom(seed)
  const practice = options.practice ?? random.of(LAWFUL_PRACTICES)
  const kind = kindOf(practice, random)
  const label = options.label ?? "cantus"
  const texted = options.texted ?? random.chance(0.7)
  const writer = new Writer(
    handOf(kind, { practice, label, texted, careless: options.careless ?? 0, undotted: options.undotted, random }),
  )
  writer.signs.push({ kind: "clef", id: writer.id(), shape: "C", line: 3, initial: true })
  if (kind.sign) writer.signs.push(signOf(kind, writer.id()))
  const walls: SignId[] = []
  while (writer.durations.size < (options.notes ?? 60)) walls.push(writer.write(phrase(kind, random)))
  walls.push(writer.write([draft(topOf(kind), kind.measure.full[topOf(kind)]!)]))
  const voice: Voice = {
    id: voiceId(label),
    n: "1",
    label,
    lines: 5,
    notation: kind.notation,
    practice: { name: kind.practice, options: kind.options },
    signs: writer.signs,
  }
  return { practice, voice, durations: writer.durations, walls }
}

/** How a voice of this kind is written. */
export function handOf(
  kind: Kind,
  voice: {
    readonly practice: LawfulPractice
    readonly label: string
    readonly texted: boolean
    readonly careless: number
    readonly undotted?: number | undefined
    readonly random: Random
  },
): Hand {
  return {
    prefix: `${voice.label.replaceAll(/\W/g, "")}.`,
    random: voice.random,
    texted: voice.texted,
    ink: kind.notation === "white" ? "black" : "red",
    strokes: kind.practice === "ars-antiqua",
    ratio: kind.sign?.strokes ? ratio(2) : ONE,
    ligatures: voice.texted ? 0.08 : 0.2,
    spacesOf: one => spacesOf(one, kind),
    loosePairs: voice.practice === "ars-antiqua",
    fencedFrom: voice.practice === "divided-breves" ? 4 : 10,
    careless: voice.careless,
    undotted: voice.undotted ?? 0,
  }
}

/** Length in spaces of a rest of breves; by its name where that leaves no choice. */
function spacesOf(one: Draft, kind: Kind): number {
  if (one.level > BREVIS) return 0
  return Math.round(one.ticks / kind.measure.full[BREVIS]!)
}

/** The sign at the head of a voice of a kind that has one. */
export function signOf(kind: Kind, id: SignId): MensurationSign {
  const [modusMaior, modusMinor, tempus, prolatio] = kind.sign!.divisions
  const { strokes } = kind.sign!
  return {
    kind: "mensuration",
    id,
    initial: true,
    modusMaior,
    modusMinor,
    tempus,
    prolatio,
    sign: tempus === 3 ? "O" : "C",
    ...(prolatio === 3 ? { dots: 1 } : {}),
    ...(strokes ? { strokes } : {}),
  }
}

/** The level whose spans a phrase counts: the largest perfect one, or the breve. */
export function topOf(kind: Kind): number {
  return kind.measure.perfect[0] ?? (kind.measure.groups ? LONGA : BREVIS)
}

export function scribeOf(kind: Kind, random: Random): Scribe {
  return {
    measure: kind.measure,
    firstImperfect: kind.practice === "white" ? [] : [LONGA],
    likeProtectsParts: kind.practice === "white",
    strokes: kind.practice === "ars-antiqua",
    random,
  }
}

/** A phrase of so many spans of the level (three to seven); it begins with a figure of the level and fills them exactly. */
export function phrase(kind: Kind, random: Random, level = topOf(kind), spans?: number): readonly Draft[] {
  const scribe = scribeOf(kind, random)
  for (let i = 0; i < TRIES; i++) {
    const drafts = new Filler(kind.measure, kind.habits, random).phrase(level, spans ?? 3 + random.below(5))
    if (drafts !== undefined && writeMarks(drafts, scribe)) return drafts
  }
  return Array.from({ length: spans ?? 2 }, () => draft(level, kind.measure.full[level]!))
}
