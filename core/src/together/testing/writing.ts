/** Writes a piece down: the rhythm of every voice becomes signs, with pitches that suit the other voices. */
import { ONE, ratio, signId, toNumber, voiceId, type Rational, type SignId } from "../../base/index.js"
import type { MensurationSign, Page, Pitch, Sign, Step, Voice } from "../../page/index.js"
import { BREVIS, SEMIBREVIS, TICKS, type Draft } from "../../reading/testing/drafts.js"
import type { Kind, LawfulPractice } from "../../reading/testing/kinds.js"
import { handOf, signOf } from "../../reading/testing/lawful.js"
import type { Random } from "../../reading/testing/random.js"
import { Writer } from "../../reading/testing/written.js"
import { clefFor, type Singer } from "./ensemble.js"
import { MANNERS, type Manner } from "./manners.js"
import { melodies, type Event, type Line, type Style } from "./melody.js"

export interface LawfulPiece {
  readonly page: Page
  /** True duration of every note and rest of all voices, in the unit of the practice. */
  readonly durations: ReadonlyMap<SignId, Rational>
  readonly practice: LawfulPractice
  /** The last note of each voice: held freely, so that figures leave it out. */
  readonly finals: ReadonlySet<SignId>
}

/** Figures that follow each other, a sign without length, or another mensuration from here on. */
export type Segment =
  { readonly drafts: readonly Draft[] } | { readonly sign: (id: SignId) => Sign } | { readonly turn: Kind }

export interface VoicePlan {
  readonly singer: Singer
  /** As the voice begins. */
  readonly kind: Kind
  readonly segments: readonly Segment[]
  /** Its pitches come again after so many notes. */
  readonly color?: number | undefined
  /** Written values are divided by this, whatever the signs say (2 under a stroke, else 1). */
  readonly diminution?: Rational
}

export interface Occasion {
  readonly practice: LawfulPractice
  readonly title: string
  /** Chance that a division that is needed is left out. */
  readonly careless: number
  /** How its voices are set against each other (as those of its practice). */
  readonly manner?: Manner
  readonly random: Random
}

const STEPS: readonly Step[] = ["c", "d", "e", "f", "g", "a", "b"]
/** Share of pieces with one flat. */
const FLAT = 0.4

export function writePiece(plans: readonly VoicePlan[], occasion: Occasion): LawfulPiece {
  const flat = occasion.random.chance(FLAT)
  const heights = melodies(plans.map(lineOf), styleOf(plans, occasion, flat))
  const durations = new Map<SignId, Rational>()
  const finals = new Set<SignId>()
  const voices = plans.map((plan, v) => {
    const writer = writeVoice(plan, heights[v]!.map(pitchOf), flat, occasion)
    for (const [id, duration] of writer.durations) durations.set(id, duration)
    finals.add([...writer.durations.keys()].at(-1)!)
    return { low: plan.singer.low, signs: withLineEnds(writer.signs, plan.singer), plan }
  })
  const ordered = voices.toSorted((a, b) => b.low - a.low)
  const page: Page = {
    title: occasion.title,
    voices: ordered.map(({ plan, signs }, i) => voiceOf(plan, signs, i + 1)),
    shapes: [],
    surfaces: [],
    zones: [],
    alternatives: [],
  }
  return { page, durations, practice: occasion.practice, finals }
}

function voiceOf({ singer, kind }: VoicePlan, signs: readonly Sign[], n: number): Voice {
  return {
    id: voiceId(singer.label),
    n: String(n),
    label: singer.label,
    lines: 5,
    notation: kind.notation,
    practice: { name: kind.practice, options: kind.options },
    signs,
  }
}

function writeVoice(
  plan: VoicePlan,
  pitches: readonly (Pitch | undefined)[],
  flat: boolean,
  occasion: Occasion,
): Writer {
  const { singer, kind } = plan
  const voice = { ...occasion, label: singer.label, texted: singer.texted }
  const hand = { pitches, ratio: diminutionOf(plan) }
  const writer = new Writer({ ...handOf(kind, voice), ...hand })
  writer.signs.push({ kind: "clef", id: writer.id(), ...clefFor(singer.low), initial: true })
  if (flat)
    writer.signs.push({
      kind: "signature",
      id: writer.id(),
      accidentals: [{ step: "b", accidental: "f" }],
      initial: true,
    })
  if (kind.sign) writer.signs.push(signOf(kind, writer.id()))
  for (const segment of plan.segments) {
    if ("drafts" in segment) writer.write(segment.drafts)
    else if ("sign" in segment) writer.signs.push(segment.sign(writer.id()))
    else {
      writer.turn({ ...handOf(segment.turn, voice), ...hand })
      writer.signs.push(laterSign(signOf(segment.turn, writer.id())))
    }
  }
  return writer
}

/** A custos at the end of each line, and the clef again at the beginning of the next. */
function withLineEnds(signs: readonly Sign[], { label, low }: Singer): Sign[] {
  return signs.flatMap((sign, i): Sign[] => {
    if (sign.kind !== "break") return [sign]
    const next = signs.slice(i).find(one => one.kind === "note" || one.kind === "ligature")
    const note = next?.kind === "ligature" ? next.members[0] : next
    const pitch = note?.kind === "note" ? note.pitch : undefined
    const custos: Sign = { kind: "custos", id: signId(`${label}.custos-${i}`), ...(pitch && { pitch }) }
    return [custos, sign, { kind: "clef", id: signId(`${label}.clef-${i}`), ...clefFor(low) }]
  })
}

function laterSign({ initial: _, ...sign }: MensurationSign): MensurationSign {
  return sign
}

const diminutionOf = ({ diminution, kind }: VoicePlan): Rational => diminution ?? (kind.sign?.strokes ? ratio(2) : ONE)

function lineOf(plan: VoicePlan): Line {
  const by = toNumber(diminutionOf(plan))
  const events: Event[] = []
  let time = 0
  const add = (ticks: number, rest: boolean): void => {
    events.push({ start: time, end: time + ticks / by, rest })
    time += ticks / by
  }
  for (const segment of plan.segments)
    if ("drafts" in segment)
      for (const one of segment.drafts)
        if (one.members) for (const ticks of one.members) add(ticks, false)
        else add(one.ticks, one.rest)
  const { full } = plan.kind.measure
  return {
    events,
    low: plan.singer.low,
    color: plan.color,
    unit: (isOld(plan.kind) ? full[BREVIS]! : full[SEMIBREVIS]!) / by,
  }
}

const isOld = (kind: Kind): boolean => kind.practice === "ars-antiqua"

/** Perfections are those of the second voice: the first may be written in other values. */
function styleOf(plans: readonly VoicePlan[], { practice, manner, random }: Occasion, flat: boolean): Style {
  const plan = plans[1]!
  const perfection = isOld(plan.kind) ? 3 * TICKS : plan.kind.measure.full[BREVIS]! / toNumber(diminutionOf(plan))
  return { manner: manner ?? MANNERS[practice], perfection, flat, random }
}

function pitchOf(height: number | undefined): Pitch | undefined {
  return height === undefined ? undefined : { step: STEPS[height % 7]!, octave: Math.floor(height / 7) }
}
