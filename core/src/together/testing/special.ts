/** Small invented pieces, each with one thing that joint reading has to cope with. The same seed gives the same piece. */
import { ratio, type Rational } from "../../base/index.js"
import type { Sign, Voice } from "../../page/index.js"
import { draft, LONGA, TICKS, type Draft } from "../../reading/testing/drafts.js"
import { kindOf, type Divisions, type Kind, type LawfulPractice } from "../../reading/testing/kinds.js"
import { randomFrom, type Random } from "../../reading/testing/random.js"
import { commonLength, lawfulPiece, partsOf, partsWith, partUnder, type Part } from "./lawful-piece.js"
import { closedRhythm, finalOf, rhythm, silence } from "./rhythm.js"
import { writePiece, type LawfulPiece, type Segment, type VoicePlan } from "./writing.js"

type WithMinims = "ars-nova" | "white"

/** Every voice has a mensuration of its own, or at least not that of the tenor; the minim is the same. */
export function differentMensurations(seed: number, practice: WithMinims = "ars-nova", voices = 3): LawfulPiece {
  return lawfulPiece(seed, { practice, voices, mixed: true })
}

/** A piece that changes its mensuration. */
export interface Turning {
  /** One after the other (tempus perfectum with minor prolation, and imperfectum with major). */
  readonly divisions?: readonly [Divisions, Divisions, ...Divisions[]]
  /** About so many notes before the first change in a voice that is no slow one (30); after it, all last as long again. */
  readonly notes?: number
  /** Which voices change: the second alone, all, or the second and a section later the third, once each (second). */
  readonly who?: "second" | "all" | "apart"
}

const USUAL_TURN: readonly [Divisions, Divisions] = [
  [2, 2, 3, 2],
  [2, 2, 2, 3],
]
const WHO = {
  second: "one voice changes its sign",
  all: "all voices change their sign",
  apart: "two voices change their signs apart",
}

/** Where a perfection begins in all voices, one of them or all turn to another mensuration, after sections of equal length. */
export function signChange(seed: number, practice: WithMinims = "white", turning: Turning = {}): LawfulPiece {
  const random = randomFrom(seed)
  const { divisions = USUAL_TURN, notes = 30, who = "second" } = turning
  const kinds = divisions.map(one => kindOf(practice, random, one))
  const parts = partsWith(practice, [kinds[0]!, kinds[0]!, kinds[0]!], random)
  const under = (part: Part, kind: Kind): Part => partUnder(part.singer, kind)
  const section = commonLength(
    kinds.flatMap(kind => parts.map(part => under(part, kind))),
    notes,
    random,
  )
  const sections = who === "apart" ? 3 : kinds.length
  return write(
    seed,
    practice,
    WHO[who],
    random,
    parts.map((part, v): VoicePlan => {
      const turns = who === "all" || v === 1 || (who === "apart" && v === 2)
      if (!turns) return { ...part, segments: ordinary(part, sections * section, random) }
      const lengths =
        who !== "apart" ? kinds.map(() => section) : v === 1 ? [section, 2 * section] : [2 * section, section]
      const segments = lengths.flatMap((ticks, i): readonly Segment[] => {
        const own = under(part, kinds[i]!)
        const turn = i > 0 ? [{ turn: own.kind }] : []
        if (i === lengths.length - 1) return [...turn, ...ordinary(own, ticks, random)]
        return [...turn, ...drafted(closedRhythm(own.kind, own.level, ticks, random).phrases)]
      })
      return { ...part, segments }
    }),
  )
}

/**
 * The tenor is written in doubled values and sung in half of them, by a stroke through its sign or by an inscription;
 * or written in halves and sung in doubled ones, which only an inscription can say. The true durations are those sung.
 */
export function otherValues(
  seed: number,
  how: "stroke" | "decrescit in duplo" | "crescit in duplo",
  practice: WithMinims = "white",
): LawfulPiece {
  const random = randomFrom(seed)
  const kind = kindOf(practice, random, [2, 2, 2, 2])
  const parts = partsWith(practice, [kind, kind, kind], random)
  const by = how === "crescit in duplo" ? ratio(1, 2) : ratio(2)
  // The augmented tenor needs whole spans in half of the time.
  const ticks = 2 * commonLength(parts, 30, random)
  const tenorTicks = (ticks * by.num) / by.den
  return write(
    seed,
    practice,
    `the tenor's values otherwise: ${how}`,
    random,
    parts.map((part, v): VoicePlan => {
      if (v > 0) return { ...part, segments: ordinary(part, ticks, random) }
      const tenor = {
        ...part,
        kind: how === "stroke" ? { ...kind, sign: { ...kind.sign!, strokes: 1 as const } } : kind,
      }
      const inscription = mark({ of: "canon", text: how })
      const segments = ordinary(tenor, tenorTicks, random)
      return { ...tenor, segments: how === "stroke" ? segments : [inscription, ...segments], diminution: by }
    }),
  )
}

/** One upper voice is silent for the first third of the piece. */
export function lateVoice(seed: number, practice: LawfulPractice = "ars-nova"): LawfulPiece {
  return silent(seed, practice, "a voice enters late", third => [0, third, 2 * third])
}

/** One upper voice sings a little, is silent for most of the piece, and sings again. */
export function longGap(seed: number, practice: LawfulPractice = "ars-nova"): LawfulPiece {
  return silent(seed, practice, "a voice rests for long", third => [third, 3 * third, third])
}

/** A piece in three voices of which one was lost. */
export function lostVoice(
  seed: number,
  practice: LawfulPractice = "ars-nova",
): { readonly whole: LawfulPiece; readonly left: LawfulPiece; readonly lost: Voice } {
  const whole = lawfulPiece(seed, { practice, voices: 3 })
  const lost = whole.page.voices[seed % 3]!
  const isLeft = (id: string): boolean => !id.startsWith(`${lost.label}.`)
  const left: LawfulPiece = {
    ...whole,
    page: { ...whole.page, voices: whole.page.voices.filter(voice => voice !== lost) },
    durations: new Map([...whole.durations].filter(([id]) => isLeft(id))),
    finals: new Set([...whole.finals].filter(isLeft)),
  }
  return { whole, left, lost }
}

type Meeting = "finis-punctorum" | "signum-congruentiae" | "general-rest"

/** All voices meet twice before their finals. `meetings` are the onsets of what stands right after each meeting's sign or begins its rest. */
export function innerMeetings(
  seed: number,
  how: Meeting,
  practice: LawfulPractice = "ars-nova",
): LawfulPiece & { readonly meetings: readonly Rational[] } {
  const random = randomFrom(seed)
  const parts = partsOf(practice, { voices: 3 }, random)
  const sections = [20, 25, 15].map(notes => commonLength(parts, notes, random))
  const plans = parts.map((part): VoicePlan => {
    const inner = sections.slice(0, -1).flatMap(ticks => {
      const { phrases } = closedRhythm(part.kind, part.level, ticks, random)
      return [...drafted(phrases), ...meetingOf(how, part.kind)]
    })
    return { ...part, segments: [...inner, ...ordinary(part, sections.at(-1)!, random)] }
  })
  const piece = write(seed, practice, how, random, plans)
  const long = how === "signum-congruentiae" ? 0 : parts[0]!.kind.measure.full[LONGA]!
  const [first, second] = sections as [number, number]
  // After a finis punctorum the next section begins when the section's last note has ended.
  const held = how === "finis-punctorum" ? long : 0
  const by = parts[0]!.kind.sign?.strokes ? 2 : 1
  const meetings = [first + held, first + long + second + held].map(ticks => ratio(ticks, TICKS * by))
  return { ...piece, meetings }
}

function meetingOf(how: Meeting, kind: Kind): readonly Segment[] {
  const long = (more: Partial<Draft> = {}): Segment => ({ drafts: [draft(LONGA, kind.measure.full[LONGA]!, more)] })
  if (how === "general-rest") return [long({ rest: true })]
  if (how === "signum-congruentiae") return [mark({ of: how })]
  return [long(), { sign: id => ({ kind: "stroke", id, form: how }) }]
}

/** The second voice sings, is silent, sings again for so long each; the others sing all the time. */
function silent(
  seed: number,
  practice: LawfulPractice,
  title: string,
  times: (third: number) => readonly [number, number, number],
): LawfulPiece {
  const random = randomFrom(seed)
  const parts = partsOf(practice, { voices: 3 }, random)
  const [before, pause, after] = times(commonLength(parts, 24, random))
  return write(
    seed,
    practice,
    title,
    random,
    parts.map((part, v): VoicePlan => {
      const { kind, level } = part
      if (v !== 1) return { ...part, segments: ordinary(part, before + pause + after, random) }
      const sung = before > 0 ? closedRhythm(kind, level, before, random).phrases : []
      const segments = [...drafted([...sung, silence(kind, level, pause)]), ...ordinary(part, after, random)]
      return { ...part, segments }
    }),
  )
}

/** Phrases for so long, and the final. */
function ordinary({ kind, level }: Part, ticks: number, random: Random): readonly Segment[] {
  const made = rhythm(kind, level, ticks, random)
  return drafted([...made.phrases, [finalOf(made)]])
}

const drafted = (phrases: readonly (readonly Draft[])[]): readonly Segment[] => phrases.map(drafts => ({ drafts }))

const mark = (of: Omit<Extract<Sign, { kind: "mark" }>, "id" | "kind">): Segment => ({
  sign: id => ({ kind: "mark", id, ...of }),
})

function write(
  seed: number,
  practice: LawfulPractice,
  what: string,
  random: Random,
  plans: readonly VoicePlan[],
): LawfulPiece {
  return writePiece(plans, { practice, title: `Invented piece ${seed}: ${what}`, careless: 0, random })
}
